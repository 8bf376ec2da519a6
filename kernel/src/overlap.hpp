#pragma once

#include <TopoDS_Shape.hxx>
#include <gp_Ax2.hxx>

/// How many pairs of free-form edges of a solid lie on each other on the page that an eye sees: the front and back
/// edges of a part that is symmetric square to the sight do.
int overlappingPairs(const TopoDS_Shape& solid, const gp_Ax2& eye);
