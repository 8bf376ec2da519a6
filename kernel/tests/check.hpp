#pragma once

#include <cmath>
#include <functional>
#include <map>
#include <sstream>
#include <stdexcept>
#include <string>

/// All tests by name; the name is also the ctest entry.
inline std::map<std::string, std::function<void()>>& tests() {
    static std::map<std::string, std::function<void()>> all;
    return all;
}

struct Registration {
    Registration(const char* name, std::function<void()> test) { tests()[name] = std::move(test); }
};

#define TEST_NAMED(name, number)                                                                                       \
    static void test##number();                                                                                        \
    static const Registration registration##number(name, test##number);                                                \
    static void test##number()
#define TEST_NUMBERED(name, number) TEST_NAMED(name, number)
#define TEST(name) TEST_NUMBERED(name, __COUNTER__)

inline void check(bool isTrue, const std::string& what) {
    if (!isTrue) throw std::runtime_error(what);
}

inline void checkNear(double is, double expected, double within, const std::string& what) {
    if (std::abs(is - expected) <= within) return;
    std::ostringstream message;
    message.precision(17);
    message << what << " is " << is << ", expected " << expected << " within " << within;
    throw std::runtime_error(message.str());
}

inline void checkHolds(const std::string& text, const std::string& part) {
    check(text.find(part) != std::string::npos, "\"" + text + "\" does not hold \"" + part + "\"");
}
