#include "overlap.hpp"

#include "named_shape.hpp"

#include <BRepAdaptor_Curve.hxx>
#include <BRep_Tool.hxx>
#include <HLRAlgo_Projector.hxx>
#include <TopoDS.hxx>
#include <array>
#include <gp_Pnt2d.hxx>
#include <vector>

namespace {

constexpr double touchingMm = 1e-4;

/// Both ends and the middle of an edge on the page.
using OnPage = std::array<gp_Pnt2d, 3>;

bool isPoint(const OnPage& e) {
    return e[0].Distance(e[2]) < touchingMm && e[0].Distance(e[1]) < touchingMm;
}

bool liesOn(const OnPage& a, const OnPage& b) {
    return a[1].Distance(b[1]) < touchingMm && ((a[0].Distance(b[0]) < touchingMm && a[2].Distance(b[2]) < touchingMm) ||
                                                (a[0].Distance(b[2]) < touchingMm && a[2].Distance(b[0]) < touchingMm));
}

} // namespace

int overlappingPairs(const TopoDS_Shape& solid, const gp_Ax2& eye) {
    const HLRAlgo_Projector projector(eye);
    std::vector<OnPage> edges;
    int pairs = 0;
    for (const TopoDS_Shape& shape : partsOf(solid, TopAbs_EDGE)) {
        const TopoDS_Edge& edge = TopoDS::Edge(shape);
        if (BRep_Tool::Degenerated(edge)) continue;
        const BRepAdaptor_Curve curve(edge);
        if (curve.GetType() < GeomAbs_BezierCurve) continue; // lines and conics meet by formula
        OnPage page;
        for (std::size_t i = 0; i < page.size(); ++i)
            projector.Project(curve.Value(curve.FirstParameter() +
                                          0.5 * double(i) * (curve.LastParameter() - curve.FirstParameter())),
                              page[i]);
        if (isPoint(page)) continue;
        for (const OnPage& other : edges)
            pairs += liesOn(page, other);
        edges.push_back(page);
    }
    return pairs;
}
