#pragma once

#include "deadline.hpp"
#include "named_shape.hpp"
#include "recipe.hpp"

/// Joins all tools of a feature to what is there so far (null: nothing yet), or cuts them from it. The result has
/// passed the guards. When the library fails, it is tried again with fuzzy values 1e-5 and 1e-4 mm.
NamedShape combine(const NamedShape& base, const Combination& combination, const std::string& feature,
                   Deadline& deadline);
