#include "fault.hpp"

#include "refusal.hpp"

#include <csignal>
#include <memory>
#include <unistd.h>
#include <vector>

void breakOnPurpose(const std::string& how) {
    if (how == "crash") raise(SIGSEGV);
    if (how == "hang")
        for (;;)
            pause();
    if (how == "memory") {
        constexpr std::size_t chunk = std::size_t(16) << 20;
        std::vector<std::unique_ptr<char[]>> held;
        for (;;)
            held.push_back(std::make_unique_for_overwrite<char[]>(chunk)); // taken, not touched
    }
    throw Refusal("request", "how: crash, hang or memory is expected");
}
