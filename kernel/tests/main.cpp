#include "check.hpp"
#include "worker.hpp"

#include <iostream>

/// kernel-tests WORKER [TEST]: runs one test, or all of them.
int main(int count, char** words) {
    if (count < 2) {
        std::cerr << "usage: kernel-tests WORKER [TEST]\n";
        return 2;
    }
    Worker::program = words[1];
    int run = 0, failed = 0;
    for (const auto& [name, test] : tests()) {
        if (count > 2 && name != words[2]) continue;
        ++run;
        try {
            test();
        } catch (const std::exception& e) {
            ++failed;
            std::cerr << name << ": " << e.what() << "\n";
        }
    }
    if (run == 0) std::cerr << "there is no such test\n";
    std::cout << run - failed << " passed, " << failed << " failed\n";
    return run == 0 || failed > 0 ? 1 : 0;
}
