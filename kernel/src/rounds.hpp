#pragma once

#include "named_shape.hpp"
#include "recipe.hpp"

/// Rounds, fillets or chamfers the edges that were asked for; the new faces bear the name "FEATURE.face".
/// The result has passed the arithmetic checks beforehand and the guards afterwards.
NamedShape roundEdges(const NamedShape& base, const Transition& round, const std::string& feature);
