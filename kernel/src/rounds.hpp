#pragma once

#include "named_shape.hpp"
#include "recipe.hpp"
#include "run_on.hpp"

/// A rounded solid, and the edges onto which the round ran on.
struct Rounded {
    NamedShape solid;
    std::vector<RunOn> runOns;
};

/// Rounds, fillets or chamfers the edges that were asked for; the new faces bear the name "FEATURE.face".
/// Where an earlier round of the same kind and size has run on along all of them, they only get their second name.
/// The result has passed the arithmetic checks beforehand and the guards afterwards.
Rounded roundEdges(const NamedShape& base, const Transition& round, const std::vector<RunOn>& earlier,
                   const std::string& feature);
