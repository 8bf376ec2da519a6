#include "view.hpp"

#include "library.hpp"
#include "named_shape.hpp"
#include "polyline.hpp"

#include <BRepAdaptor_Curve.hxx>
#include <BRepLib.hxx>
#include <HLRAlgo_Projector.hxx>
#include <HLRBRep_Algo.hxx>
#include <HLRBRep_HLRToShape.hxx>
#include <TopoDS.hxx>
#include <algorithm>
#include <gp_Ax2.hxx>

namespace {

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

std::vector<ViewLine> viewOf(const TopoDS_Shape& solid, const gp_Dir& toward, const gp_Dir& up, bool withHidden,
                             double chordMm) {
    return askLibrary("", "the view could not be drawn", [&] {
        // The library looks against its axis, with x to the right.
        const gp_Ax2 eye(gp::Origin(), toward.Reversed(), toward.Crossed(up));
        Handle(HLRBRep_Algo) algorithm = new HLRBRep_Algo;
        algorithm->Add(solid);
        algorithm->Projector(HLRAlgo_Projector(eye));
        algorithm->Update();
        algorithm->Hide();
        HLRBRep_HLRToShape shapes(algorithm);
        std::vector<ViewLine> view;
        addLines(shapes.VCompound(), "edge", false, chordMm, view);
        addLines(shapes.OutLineVCompound(), "outline", false, chordMm, view);
        addLines(shapes.Rg1LineVCompound(), "smooth", false, chordMm, view);
        if (withHidden) {
            addLines(shapes.HCompound(), "edge", true, chordMm, view);
            addLines(shapes.OutLineHCompound(), "outline", true, chordMm, view);
        }
        return view;
    });
}
