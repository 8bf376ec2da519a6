#include "edges.hpp"

#include <BRepAdaptor_Curve.hxx>
#include <BRepAdaptor_Surface.hxx>
#include <BRepBuilderAPI_MakeVertex.hxx>
#include <BRepExtrema_DistShapeShape.hxx>
#include <BRep_Tool.hxx>
#include <GCPnts_AbscissaPoint.hxx>
#include <Geom2d_Curve.hxx>
#include <TopExp.hxx>
#include <TopExp_Explorer.hxx>
#include <TopTools_IndexedDataMapOfShapeListOfShape.hxx>
#include <TopoDS.hxx>
#include <algorithm>
#include <cmath>
#include <numbers>

namespace {

/// Outward normal of a face at a place along one of its edges.
gp_Vec normalAlong(const TopoDS_Face& face, const TopoDS_Edge& edge, double parameter) {
    double first, last;
    const Handle(Geom2d_Curve) curve = BRep_Tool::CurveOnSurface(edge, face, first, last);
    if (curve.IsNull()) return {};
    const gp_Pnt2d uv = curve->Value(parameter);
    const BRepAdaptor_Surface surface(face, false);
    gp_Pnt p;
    gp_Vec du, dv;
    surface.D1(uv.X(), uv.Y(), p, du, dv);
    gp_Vec normal = du.Crossed(dv);
    if (normal.Magnitude() < 1e-12) return {};
    return normal.Normalized() * (face.Orientation() == TopAbs_REVERSED ? -1.0 : 1.0);
}

/// The edge as it runs in the boundary of a face: the face lies on its left, seen from outside.
TopoDS_Edge asInFace(const TopoDS_Edge& edge, const TopoDS_Face& face) {
    for (TopExp_Explorer it(face, TopAbs_EDGE); it.More(); it.Next())
        if (it.Current().IsSame(edge)) return TopoDS::Edge(it.Current());
    return edge;
}

Edge look(const TopoDS_Edge& edge, const TopoDS_Face& first, const TopoDS_Face& second) {
    constexpr double smoothBelow = 1e-3; // radians
    const TopoDS_Edge inFirst = asInFace(edge, first);
    const BRepAdaptor_Curve curve(inFirst);
    const double middle = (curve.FirstParameter() + curve.LastParameter()) / 2;
    gp_Pnt p;
    gp_Vec along;
    curve.D1(middle, p, along);
    if (inFirst.Orientation() == TopAbs_REVERSED) along.Reverse();
    const gp_Vec a = normalAlong(first, inFirst, middle), b = normalAlong(second, asInFace(edge, second), middle);
    Edge seen{edge, first, second, Meeting::smooth, std::numbers::pi, GCPnts_AbscissaPoint::Length(curve)};
    if (a.Magnitude() == 0 || b.Magnitude() == 0 || along.Magnitude() == 0) return seen;
    const double turn =
        std::atan2(a.Crossed(b).Dot(along.Normalized()), a.Dot(b)); // above zero where the solid turns away
    seen.insideAngle = std::numbers::pi - turn;
    if (std::abs(turn) > smoothBelow) seen.meeting = turn > 0 ? Meeting::convex : Meeting::concave;
    return seen;
}

/// Whether the faces of an edge bear the two names, the one here and the other there. Puts the first-named face first.
bool putInOrder(Edge& edge, const std::pair<std::string, std::string>& asked, const NameMap& names) {
    const NameSet &a = names.of(edge.first), &b = names.of(edge.second);
    if (bearsNameMeantBy(a, asked.first) && bearsNameMeantBy(b, asked.second)) return true;
    if (!bearsNameMeantBy(b, asked.first) || !bearsNameMeantBy(a, asked.second)) return false;
    std::swap(edge.first, edge.second);
    return true;
}

std::vector<Edge> nearest(std::vector<Edge> edges, const gp_Pnt& point) {
    const TopoDS_Shape there = BRepBuilderAPI_MakeVertex(point).Shape();
    const auto distance = [&](const Edge& edge) { return BRepExtrema_DistShapeShape(edge.edge, there).Value(); };
    const auto closest = std::min_element(edges.begin(), edges.end(),
                                          [&](const Edge& a, const Edge& b) { return distance(a) < distance(b); });
    return {*closest};
}

} // namespace

std::vector<Edge> edgesOf(const NamedShape& solid) {
    TopTools_IndexedDataMapOfShapeListOfShape facesOf;
    TopExp::MapShapesAndAncestors(solid.shape, TopAbs_EDGE, TopAbs_FACE, facesOf);
    std::vector<Edge> edges;
    for (int i = 1; i <= facesOf.Extent(); ++i) {
        const TopoDS_Edge edge = TopoDS::Edge(facesOf.FindKey(i));
        const TopTools_ListOfShape& faces = facesOf(i);
        if (faces.Extent() != 2 || faces.First().IsSame(faces.Last()) || BRep_Tool::Degenerated(edge)) continue;
        edges.push_back(look(edge, TopoDS::Face(faces.First()), TopoDS::Face(faces.Last())));
    }
    return edges;
}

bool isBetween(const Edge& edge, const std::pair<std::string, std::string>& asked, const NameMap& names) {
    Edge either = edge;
    return putInOrder(either, asked, names);
}

std::vector<Edge> chooseEdges(const NamedShape& solid, const EdgeChoice& choice) {
    std::vector<Edge> chosen;
    for (Edge edge : edgesOf(solid)) {
        if (edge.meeting == Meeting::smooth) continue;
        if (choice.meeting) {
            if (putInOrder(edge, *choice.meeting, solid.names)) chosen.push_back(edge);
            continue;
        }
        const bool isOwn = bearsNameMeantBy(solid.names.of(edge.first), choice.edgesOf) &&
                           bearsNameMeantBy(solid.names.of(edge.second), choice.edgesOf);
        if (isOwn && !isExcepted(edge, choice, solid.names)) chosen.push_back(edge);
    }
    return choice.near && !chosen.empty() ? nearest(chosen, *choice.near) : chosen;
}

bool isExcepted(const Edge& edge, const EdgeChoice& choice, const NameMap& names) {
    return std::any_of(choice.except.begin(), choice.except.end(),
                       [&](const auto& pair) { return isBetween(edge, pair, names); });
}

std::string nameOf(const TopoDS_Face& face, const NameMap& names) {
    const NameSet& borne = names.of(face);
    return borne.empty() ? "an unnamed face" : *borne.begin();
}

std::string inWords(const Edge& edge, const NameMap& names) {
    return "edge between " + nameOf(edge.first, names) + " and " + nameOf(edge.second, names);
}
