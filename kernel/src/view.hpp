#pragma once

#include <TopoDS_Shape.hxx>
#include <gp_Dir.hxx>
#include <gp_Pnt2d.hxx>
#include <string>
#include <vector>

/// A line of a drawing, in mm on the page at 1:1.
struct ViewLine {
    std::string kind; ///< "outline" of a round face, "edge", or "smooth" where one face runs into the next
    bool hidden;
    std::vector<gp_Pnt2d> points;
};

/// What is seen of a solid along `toward`; the page's x is toward × up, its y is up.
/// The lines come in an order that depends on the drawing alone.
std::vector<ViewLine> viewOf(const TopoDS_Shape& solid, const gp_Dir& toward, const gp_Dir& up, bool withHidden,
                             double chordMm);
