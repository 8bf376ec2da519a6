#pragma once

#include "named_shape.hpp"

#include <gp_Dir.hxx>
#include <gp_Pnt.hxx>
#include <optional>
#include <string>
#include <vector>

/// One caliper reading to be taken on a solid.
struct Reading {
    enum class Way { outside, inside, depth, step } way;
    std::vector<std::string> of;   ///< one or two names
    std::optional<gp_Dir> across;  ///< measure the extent of the named faces in this direction
    std::optional<gp_Pnt> atPoint; ///< on a cone, measure square to its axis through this point
};

/// What the caliper shows, in mm, taken on the exact surfaces of the faces that bear the names. Refused, with the
/// reason, where those surfaces do not lie as the way of measuring needs them.
double take(const Reading& reading, const NamedShape& solid);
