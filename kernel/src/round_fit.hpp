#pragma once

#include "edges.hpp"
#include "recipe.hpp"

/// How far from the edge a round or chamfer begins on one of its two faces.
/// A round: r / tan(half the angle between the faces). A chamfer: its setback on the first-named face.
double setbackOn(const TopoDS_Face& face, const Edge& edge, const Transition& round);

/// Our own arithmetic before the library is asked. It looks square across the flat faces beside the edge, and along
/// cylinders from their rims, and refuses only what cannot be:
/// - a face that nowhere along the edge is as wide as the round needs, or two rounds that meet on it;
/// - a round that ends just on another edge at the narrowest place, where it would leave nothing;
/// - a chamfer that reaches beyond an edge of the face;
/// - a round in a square corner that reaches into an earlier one where its ball has no place.
/// The remedy says which size leaves room there.
void refuseWhatDoesNotFit(const NamedShape& solid, const std::vector<Edge>& edges, const Transition& round,
                          const std::string& feature);
