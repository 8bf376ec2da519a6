#pragma once

#include "page_lines.hpp"

#include <TopoDS_Shape.hxx>
#include <gp_Dir.hxx>
#include <vector>

/// How a view is drawn.
struct ViewWish {
    gp_Dir toward, up; ///< direction of sight, and which way is up on the page
    bool hidden = true;
    double chordMm = 0.02;
};

/// What is seen of a solid; the page's x is toward × up, its y is up. Round lines are drawn to within the chord.
std::vector<ViewLine> viewOf(const TopoDS_Shape& solid, const ViewWish& wish);
