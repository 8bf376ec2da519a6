#include "section.hpp"

#include "library.hpp"
#include "named_shape.hpp"
#include "polyline.hpp"

#include <BRepAdaptor_Curve.hxx>
#include <BRepAlgoAPI_Section.hxx>
#include <BRepTools_WireExplorer.hxx>
#include <ShapeAnalysis_FreeBounds.hxx>
#include <TopTools_HSequenceOfShape.hxx>
#include <TopoDS.hxx>
#include <algorithm>

std::vector<SectionLoop> sectionOf(const TopoDS_Shape& solid, const gp_Pln& plane, double chordMm) {
    return askLibrary("", "the section could not be made", [&] {
        BRepAlgoAPI_Section section(solid, plane, false);
        section.SetRunParallel(false);
        section.SetNonDestructive(true);
        section.Build();
        if (section.HasErrors()) throw Refusal("failed", "the section could not be made");

        Handle(TopTools_HSequenceOfShape) edges = new TopTools_HSequenceOfShape, wires;
        for (const TopoDS_Shape& edge : partsOf(section.Shape(), TopAbs_EDGE))
            edges->Append(edge);
        ShapeAnalysis_FreeBounds::ConnectEdgesToWires(edges, 1e-5, false, wires);
        std::vector<SectionLoop> loops;
        for (int i = 1; !wires.IsNull() && i <= wires->Length(); ++i) {
            SectionLoop loop;
            for (BRepTools_WireExplorer it(TopoDS::Wire(wires->Value(i))); it.More(); it.Next()) {
                auto points = pointsAlong(BRepAdaptor_Curve(it.Current()), chordMm);
                if (it.Orientation() == TopAbs_REVERSED) std::reverse(points.begin(), points.end());
                loop.insert(loop.end(), points.begin(), std::prev(points.end()));
            }
            if (loop.size() > 2) loops.push_back(std::move(loop));
        }
        return loops;
    });
}
