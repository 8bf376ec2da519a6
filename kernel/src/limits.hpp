#pragma once

#include <cstdint>

/// Bounds that the worker sets on itself, so that a bad input costs one process and nothing else.
struct Limits {
    std::uint64_t memoryMiB = 3072;
    std::uint64_t cpuSeconds = 600;
};

/// Sets address space, processor time and "no core file".
void setLimits(const Limits& limits);

/// Dies with the parent; leaves at once when the parent has already gone.
void dieWithParent(int parentPid);
