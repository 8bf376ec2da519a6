#pragma once

#include "deadline.hpp"

#include <TopoDS_Face.hxx>
#include <TopoDS_Shape.hxx>
#include <array>
#include <cstdint>
#include <optional>
#include <vector>

/// A closed triangle mesh. One vertex per corner of the solid and per point along an edge or inside a face: triangles
/// share vertices because their faces share edges, never because coordinates happen to agree.
struct Mesh {
    std::vector<std::array<double, 3>> points;
    std::vector<std::array<std::uint32_t, 3>> triangles; ///< counter-clockwise seen from outside
    std::vector<std::uint32_t> faces;                    ///< for each triangle, the place of its face in the solid
    double worstChordMm = 0;                             ///< farthest found between a triangle and its exact surface

    double volumeMm3() const;
    double areaMm2(std::size_t triangle) const;
    /// Each edge lies between exactly two triangles that run along it in opposite directions.
    bool isWatertight() const;

private:
    mutable std::optional<bool> watertight_; ///< once it has been looked at: the order of points does not change it
};

/// Meshes a solid so that no triangle lies farther from its surface than `chordMm`; halves the step until that holds.
/// `faces` gives the order in which the mesh numbers the faces of the solid.
/// Leaves no trace on the solid. The order of points and triangles depends on the geometry alone.
Mesh meshOf(const TopoDS_Shape& solid, const std::vector<TopoDS_Face>& faces, double chordMm, double angleDeg,
            Deadline& deadline);
