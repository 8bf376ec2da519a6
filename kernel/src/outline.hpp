#pragma once

#include "named_shape.hpp"
#include "recipe.hpp"

#include <gp_Ax3.hxx>

/// Lays a region into the plane of a right-handed frame: faces whose edges bear the names of their pieces.
/// `feature` is named when the region cannot be made.
NamedShape layOutline(const Region& region, const gp_Ax3& frame, const std::string& feature);

/// The same for a single loop.
NamedShape layLoop(const Loop& loop, const gp_Ax3& frame, const std::string& feature);

/// The region seen in a mirror: v becomes −v. It lets a mirror image be built in a right-handed frame.
Region mirrored(const Region& region);
