#include "view.hpp"

#include "library.hpp"
#include "named_shape.hpp"
#include "overlap.hpp"
#include "polyline.hpp"

#include <BRepAdaptor_Curve.hxx>
#include <BRepBuilderAPI_Copy.hxx>
#include <BRepLib.hxx>
#include <HLRAlgo_Projector.hxx>
#include <HLRBRep_Algo.hxx>
#include <HLRBRep_HLRToShape.hxx>
#include <TopoDS.hxx>
#include <algorithm>
#include <gp_Ax2.hxx>

namespace {

constexpr double smoothRadians = 1e-3;

/// The library looks for the meeting points of every two edges on the page, and for free-form ones that lie on each
/// other it searches along their whole length: some 30 ms a pair, where a view takes 50 in all. Turned by so little
/// (1.5 µm on 50 mm, less than the usual chord up to 600 mm) they lie beside each other. Where few pairs do, turning
/// costs more than it saves, since straight edges then meet at hair-thin angles.
constexpr double turnRadians = 3e-5;
constexpr int fewPairs = 3;

/// The library looks against its axis, with x to the right.
gp_Ax2 eyeOf(const TopoDS_Shape& solid, const ViewWish& wish) {
    const gp_Ax2 eye(gp::Origin(), wish.toward.Reversed(), wish.toward.Crossed(wish.up));
    if (overlappingPairs(solid, eye) <= fewPairs) return eye;
    return eye.Rotated(gp_Ax1(gp::Origin(), wish.up), turnRadians);
}

void addLines(TopoDS_Shape lines, const std::string& kind, bool hidden, double chordMm, std::vector<ViewLine>& view) {
    if (lines.IsNull()) return;
    BRepLib::BuildCurves3d(lines); // they come as curves on the page
    for (const TopoDS_Shape& edge : partsOf(lines, TopAbs_EDGE)) {
        ViewLine line{kind, hidden, {}};
        for (const gp_Pnt& p : pointsAlong(BRepAdaptor_Curve(TopoDS::Edge(edge)), chordMm))
            line.points.emplace_back(p.X(), p.Y());
        view.push_back(std::move(line));
    }
}

} // namespace

std::vector<ViewLine> viewOf(const TopoDS_Shape& solid, const ViewWish& wish) {
    return askLibrary("", "the view could not be drawn", [&] {
        // A copy, on which the edges get marked where one face runs smoothly into the next.
        TopoDS_Shape marked = BRepBuilderAPI_Copy(solid, false, false).Shape();
        BRepLib::EncodeRegularity(marked, smoothRadians);
        Handle(HLRBRep_Algo) algorithm = new HLRBRep_Algo;
        algorithm->Add(marked);
        algorithm->Projector(HLRAlgo_Projector(eyeOf(marked, wish)));
        algorithm->Update();
        algorithm->Hide();
        HLRBRep_HLRToShape shapes(algorithm);
        std::vector<ViewLine> view;
        addLines(shapes.VCompound(), "edge", false, wish.chordMm, view);
        addLines(shapes.OutLineVCompound(), "outline", false, wish.chordMm, view);
        addLines(shapes.Rg1LineVCompound(), "smooth", false, wish.chordMm, view);
        if (wish.hidden) {
            addLines(shapes.HCompound(), "edge", true, wish.chordMm, view);
            addLines(shapes.OutLineHCompound(), "outline", true, wish.chordMm, view);
        }
        return tidied(std::move(view), wish.chordMm);
    });
}
