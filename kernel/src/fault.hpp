#pragma once

#include <string>

/// Breaks the worker as asked ("crash", "hang", "memory"), so that tests can see what its keeper makes of it.
void breakOnPurpose(const std::string& how);
