#pragma once

#include <TopoDS_Face.hxx>
#include <gp_Mat.hxx>
#include <gp_Pnt.hxx>

/// What a face, or a closed set of faces, comes to. Of a face: its area, and integrals over the cone from the origin
/// to it, which add up over a solid to those of the solid.
struct Weight {
    double areaMm2 = 0;
    double volumeMm3 = 0;
    gp_XYZ first{0, 0, 0}; ///< ∫x dV, mm⁴
    /// ∫x² dV, ∫y² dV, ∫z² dV, ∫xy dV, ∫yz dV, ∫zx dV, mm⁵
    double second[6] = {};

    Weight& operator+=(const Weight& other);
    gp_Pnt centroid() const;
    /// About the centroid, at density 1: Ixx = ∫(y²+z²) dV, Ixy = −∫xy dV.
    gp_Mat inertia() const;
};

/// Weighs a face by Gauss's rule: along its boundary in the parameters of its surface (Green's theorem), and from there
/// inward, in steps between the places where curve or surface are pieced together.
Weight weightOf(const TopoDS_Face& face);
