#pragma once

#include "channel.hpp"
#include "extent.hpp"
#include "named_shape.hpp"

#include <BRepAdaptor_Surface.hxx>
#include <TopoDS_Face.hxx>
#include <gp_Pnt.hxx>
#include <gp_XY.hxx>
#include <vector>

/// Distance of a point from the surface of a face. Where there is no formula it is searched for from the parameters
/// `near`, until it is `enough`: then the distance is at most what is returned.
double distanceTo(const BRepAdaptor_Surface& surface, const gp_Pnt& p, const gp_XY& near, double enough);

/// "plane", "cylinder", "cone", "sphere", "torus" or "other".
const char* typeOf(const BRepAdaptor_Surface& surface);

/// Whether material lies on the inner side of a round surface (a boss, not a hole).
bool bulges(const TopoDS_Face& face, const BRepAdaptor_Surface& surface);

/// Outward normal of a plane.
gp_Dir outwardNormal(const TopoDS_Face& face, const BRepAdaptor_Surface& plane);

struct PlacedFace {
    TopoDS_Face face;
    Box box;
};

/// The faces of a solid in an order that depends on names and geometry alone.
std::vector<PlacedFace> facesInOrder(const NamedShape& solid);

/// One line of the face table of the protocol.
Answer describe(const PlacedFace& placed, const NamedShape& solid);
