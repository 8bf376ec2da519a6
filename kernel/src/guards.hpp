#pragma once

#include "deadline.hpp"
#include "extent.hpp"
#include "named_shape.hpp"

#include <TopoDS_Solid.hxx>

/// What the volume of a solid may do in one feature.
struct VolumeBound {
    double leastMm3, mostMm3;
};

/// Notes volume, centroid and inertia of a solid.
void weigh(NamedShape& solid);

/// The checks that stand after every feature, whatever the library claimed; each refuses with kind "wrong":
/// closed, valid, volume and box within bounds, tolerance at most 1e-4 mm. Weighs the solid.
void guardSolid(NamedShape& solid, const VolumeBound& volume, const Box& box, const std::string& feature);

/// Meshes the solid and refuses unless the mesh is watertight and encloses the exact volume within 0.1 %
/// (and what the chord itself may take away).
void guardMesh(const NamedShape& solid, const std::string& feature, Deadline& deadline);
