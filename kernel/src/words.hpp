#pragma once

#include <string>

/// A number for a sentence: up to four decimals, at least one ("5.0", "2.55").
std::string inWords(double number);
