#pragma once

#include "named_shape.hpp"
#include "recipe.hpp"

/// An edge that a round took without being asked, because it continues smoothly one that it was asked for.
struct RunOn {
    NameSet first, second; ///< names of the two faces that met there
    std::string by;        ///< the round
    Transition::Kind kind;
    double size;
};
