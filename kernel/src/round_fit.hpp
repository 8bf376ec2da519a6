#pragma once

#include "edges.hpp"
#include "recipe.hpp"

/// How far from the edge a round or chamfer begins on one of its two faces.
/// A round: r / tan(half the angle between the faces). A chamfer: its setback on the first-named face.
double setbackOn(const TopoDS_Face& face, const Edge& edge, const Transition& round);

/// Our own arithmetic before the library is asked: refuses a round that is as wide as the face beside it, or two that
/// meet on it. It looks at flat faces, and at cylinders along their axis, and refuses only where no place along the
/// edge has room, so that nothing is refused that could work.
void refuseWhatDoesNotFit(const NamedShape& solid, const std::vector<Edge>& edges, const Transition& round,
                          const std::string& feature);
