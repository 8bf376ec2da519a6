#pragma once

#include <gp_Pnt2d.hxx>
#include <string>
#include <vector>

/// A line of a drawing, in mm on the page at 1:1.
struct ViewLine {
    std::string kind; ///< "outline" of a round face, "edge", or "smooth" where one face runs into the next
    bool hidden;
    std::vector<gp_Pnt2d> points;
};

/// Makes the lines of a view fit to be drawn: leaves out what another line covers (a hidden line under a visible one,
/// the second of two that coincide), strings together pieces that continue each other, and puts all in an order that
/// depends on the drawing alone. Lines closer than `closeMm` count as one.
std::vector<ViewLine> tidied(std::vector<ViewLine> lines, double closeMm);
