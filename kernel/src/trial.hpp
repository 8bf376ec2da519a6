#pragma once

#include <functional>

/// Whether something works, tried in a copy of this process: neither a crash nor a hang of the library reaches us.
bool worksInACopy(const std::function<void()>& attempt, double milliseconds);
