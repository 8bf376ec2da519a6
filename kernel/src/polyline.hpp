#pragma once

#include <BRepAdaptor_Curve.hxx>
#include <gp_Pnt.hxx>
#include <vector>

/// Points along a curve, close enough that straight lines between them stay within `chordMm` of it.
std::vector<gp_Pnt> pointsAlong(const BRepAdaptor_Curve& curve, double chordMm);
