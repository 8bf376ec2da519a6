#pragma once

#include <TopoDS_Shape.hxx>
#include <gp_Pln.hxx>
#include <vector>

/// A closed line of points; the last one joins the first.
using SectionLoop = std::vector<gp_Pnt>;

/// Where a plane cuts a solid: closed loops, curved ones drawn to within `chordMm`.
std::vector<SectionLoop> sectionOf(const TopoDS_Shape& solid, const gp_Pln& plane, double chordMm);
