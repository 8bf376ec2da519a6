#include "limits.hpp"

#include <csignal>
#include <cstdlib>
#include <sys/prctl.h>
#include <sys/resource.h>
#include <unistd.h>

namespace {

void setLimit(__rlimit_resource resource, rlim_t soft, rlim_t hard) {
    const rlimit limit{soft, hard};
    if (setrlimit(resource, &limit) != 0) std::_Exit(3);
}

} // namespace

void setLimits(const Limits& limits) {
    const rlim_t bytes = limits.memoryMiB << 20;
    setLimit(RLIMIT_AS, bytes, bytes);
    setLimit(RLIMIT_CPU, limits.cpuSeconds, limits.cpuSeconds + 5);
    setLimit(RLIMIT_CORE, 0, 0);
}

void dieWithParent(int parentPid) {
    prctl(PR_SET_PDEATHSIG, SIGKILL);
    // The parent may have gone before the line above took effect.
    if (getppid() != parentPid) std::_Exit(0);
}
