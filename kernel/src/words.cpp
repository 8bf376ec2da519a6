#include "words.hpp"

#include <cmath>
#include <cstdio>

std::string inWords(double number) {
    char text[64];
    if (number != 0 && std::abs(number) < 1e-3) {
        std::snprintf(text, sizeof text, "%.2g", number);
        return text;
    }
    std::snprintf(text, sizeof text, "%.4f", number);
    std::string words = text;
    const auto last = words.find_last_not_of('0');
    words.resize(words[last] == '.' ? last + 2 : last + 1);
    return words;
}
