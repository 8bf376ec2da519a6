#include "known_faces.hpp"

#include <BOPTools_AlgoTools3D.hxx>
#include <BRepAdaptor_Surface.hxx>
#include <BRepCheck_Analyzer.hxx>
#include <IntTools_Context.hxx>
#include <TopExp_Explorer.hxx>
#include <TopoDS.hxx>

namespace {

gp_Pnt findPointOn(const TopoDS_Face& face) {
    gp_Pnt p;
    gp_Pnt2d uv;
    Handle(IntTools_Context) context = new IntTools_Context;
    if (BOPTools_AlgoTools3D::PointInFace(face, p, uv, context) == 0) return p;
    const BRepAdaptor_Surface surface(face);
    return surface.Value((surface.FirstUParameter() + surface.LastUParameter()) / 2,
                         (surface.FirstVParameter() + surface.LastVParameter()) / 2);
}

} // namespace

bool KnownFaces::isValid(const TopoDS_Face& face) {
    auto& known = of(face).isValid;
    if (!known) known = BRepCheck_Analyzer(face).IsValid();
    return *known;
}

const Weight& KnownFaces::weight(const TopoDS_Face& face) {
    auto& known = of(face).weight;
    if (!known) known = weightOf(face);
    return *known;
}

const Box& KnownFaces::box(const TopoDS_Face& face) {
    auto& known = of(face).box;
    if (!known) known = boxOf(face);
    return *known;
}

const gp_Pnt& KnownFaces::pointOn(const TopoDS_Face& face) {
    auto& known = of(face).point;
    if (!known) known = findPointOn(face);
    return *known;
}

void KnownFaces::same(const KnownFaces& known, const TopoDS_Face& before, const TopoDS_Face& now) {
    if (const auto* facts = known.facts_.Seek(before)) facts_.Bind(now, *facts);
}

void KnownFaces::takeFrom(const KnownFaces& known, const TopoDS_Shape& shape) {
    for (TopExp_Explorer it(shape, TopAbs_FACE); it.More(); it.Next()) {
        const TopoDS_Face face = TopoDS::Face(it.Current());
        same(known, face, face);
    }
}

KnownFaces::Facts& KnownFaces::of(const TopoDS_Face& face) {
    if (auto* facts = facts_.ChangeSeek(face)) return **facts;
    return **facts_.Bound(face, std::make_shared<Facts>());
}
