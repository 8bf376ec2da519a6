#pragma once

#include <TopoDS_Shape.hxx>
#include <array>
#include <gp_Dir.hxx>
#include <gp_Pnt.hxx>

struct Extent {
    double low, high;
};

/// How far a face, or every face of a shape, reaches along a direction: exact for planes, cylinders, cones, spheres and
/// tori bounded by lines, circles and ellipses; elsewhere found to 1e-9 mm by search on the exact curve or surface.
Extent extentAlong(const TopoDS_Shape& shape, const gp_Dir& direction);

struct Box {
    std::array<double, 3> low, high;
};

/// The box around both.
Box around(const Box& a, const Box& b);

/// The smallest box along the axes, without the slack of tolerances.
Box boxOf(const TopoDS_Shape& shape);
