#pragma once

#include "named_shape.hpp"
#include "recipe.hpp"

/// Builds a tool where it stands: one solid for each separate piece of its region, faces named.
std::vector<NamedShape> buildTool(const Tool& tool, const std::string& feature);
