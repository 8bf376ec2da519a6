#pragma once

#include "channel.hpp"
#include "deadline.hpp"
#include "shelf.hpp"

/// Answers requests: the one place that knows which words the protocol has.
class Requests {
public:
    explicit Requests(bool allowFaults) : allowFaults_(allowFaults) {}

    /// The answer to a request, without "id" and "ok". Refuses by throwing.
    Reply answer(const Json& request, const Progress& progress);

private:
    Shelf shelf_{96};
    bool allowFaults_;
};
