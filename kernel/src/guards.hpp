#pragma once

#include "deadline.hpp"
#include "extent.hpp"
#include "mesh.hpp"
#include "named_shape.hpp"

#include <TopoDS_Solid.hxx>

/// What the volume of a solid may do in one feature.
struct VolumeBound {
    double leastMm3, mostMm3;
};

/// Notes volume, area, centroid and inertia of a solid.
void weigh(NamedShape& solid);

/// Whether the library finds nothing wrong with it.
bool isValid(const NamedShape& solid);

/// The checks that stand after every feature, whatever the library claimed; each refuses with kind "wrong":
/// closed, valid, volume and box within bounds, tolerance at most 1e-4 mm. Weighs the solid.
void guardSolid(NamedShape& solid, const VolumeBound& volume, const Box& box, const std::string& feature);

/// The mesh of the guard: that which is shown while somebody works on the part.
constexpr double guardChordMm = 0.05, guardAngleDeg = 10;

/// Has the library look at the whole solid, then meshes it and refuses unless the mesh is watertight and encloses the
/// exact volume within 0.1 % (and what the chord itself may take away). `faces` gives the order in which the mesh
/// numbers the faces of the solid.
Mesh guardMesh(const NamedShape& solid, const std::vector<TopoDS_Face>& faces, const std::string& feature,
               Deadline& deadline);
