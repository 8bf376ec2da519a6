#include "tool.hpp"

#include "guards.hpp"
#include "outline.hpp"
#include "refusal.hpp"
#include "surfaces.hpp"

#include <BRepAdaptor_Curve.hxx>
#include <BRepBuilderAPI_Transform.hxx>
#include <BRepClass_FaceClassifier.hxx>
#include <BRepPrimAPI_MakePrism.hxx>
#include <BRepPrimAPI_MakeRevol.hxx>
#include <Precision.hxx>
#include <TopoDS.hxx>

namespace {

/// Right-handed in any case: a mirror image has its region mirrored instead.
gp_Ax3 frameAt(const Place& place, double height) {
    return gp_Ax3(place.origin.Translated(place.n * height), gp_Dir(place.n), gp_Dir(place.u));
}

/// Turns a solid right side out and weighs it.
void pointOutward(NamedShape& solid) {
    weigh(solid);
    if (solid.volumeMm3() >= 0) return;
    solid.shape.Reverse();
    weigh(solid);
}

/// Names the faces that the edges of an outline swept.
template <class Sweep>
void nameSides(const NamedShape& outline, const TopoDS_Shape& face, Sweep& sweep, NamedShape& solid) {
    for (const TopoDS_Shape& edge : partsOf(face, TopAbs_EDGE))
        for (const TopoDS_Shape& side : sweep.Generated(edge))
            solid.names.add(side, outline.names.of(edge));
}

/// Names the discs of a turned solid, of which the library's own account leaves out those that reach to the axis:
/// the edge that swept a disc still lies in it.
void nameDiscs(const NamedShape& outline, NamedShape& solid) {
    for (const TopoDS_Shape& shape : partsOf(solid.shape, TopAbs_FACE)) {
        const TopoDS_Face face = TopoDS::Face(shape);
        const BRepAdaptor_Surface surface(face);
        if (solid.names.knows(face)) continue;
        for (const TopoDS_Shape& edge : partsOf(outline.shape, TopAbs_EDGE)) {
            const BRepAdaptor_Curve curve(TopoDS::Edge(edge));
            const gp_Pnt middle = curve.Value((curve.FirstParameter() + curve.LastParameter()) / 2);
            if (distanceTo(surface, middle, {}, 0) > Precision::Confusion()) continue;
            const TopAbs_State state = BRepClass_FaceClassifier(face, middle, Precision::Confusion()).State();
            if (state == TopAbs_IN || state == TopAbs_ON) solid.names.add(face, outline.names.of(edge));
        }
    }
}

std::vector<NamedShape> buildPrism(const Prism& prism, const Place& place, const std::string& feature) {
    const double thickness = prism.to - prism.from;
    if (thickness <= Precision::Confusion()) throw Refusal("refused", feature + " has no thickness", feature);
    const Region region = place.isLeftHanded() ? mirrored(prism.region) : prism.region;
    const NamedShape outline = layOutline(region, frameAt(place, prism.from), feature);
    std::vector<NamedShape> solids;
    for (const TopoDS_Shape& face : partsOf(outline.shape, TopAbs_FACE)) {
        BRepPrimAPI_MakePrism sweep(face, place.n * thickness);
        NamedShape solid{sweep.Shape(), {}};
        pointOutward(solid);
        solid.names.add(sweep.FirstShape(), prism.fromNames);
        solid.names.add(sweep.LastShape(), prism.toNames);
        nameSides(outline, face, sweep, solid);
        solids.push_back(std::move(solid));
    }
    return solids;
}

std::vector<NamedShape> buildTurned(const Turned& turned, const Place& place, const std::string& feature) {
    // In the half-plane of u and n, whose third direction completes a right-handed frame.
    const gp_Ax3 frame(place.origin, gp_Dir(place.u.Crossed(place.n)), gp_Dir(place.u));
    const NamedShape outline = layLoop(turned.loop, frame, feature);
    BRepPrimAPI_MakeRevol sweep(outline.shape, gp_Ax1(place.origin, gp_Dir(place.n)));
    if (!sweep.IsDone()) throw Refusal("failed", feature + " cannot be turned about its axis", feature);
    NamedShape solid{sweep.Shape(), {}};
    pointOutward(solid);
    nameSides(outline, outline.shape, sweep, solid);
    nameDiscs(outline, solid);
    return {solid};
}

/// A copy that stands elsewhere; its names begin with that of the feature, so that copies can be told apart.
NamedShape buildAgain(const NamedShape& original, const Place& place, const std::string& feature) {
    gp_Trsf move;
    move.SetTransformation(gp_Ax3(place.origin, gp_Dir(place.n), gp_Dir(place.u)), gp_Ax3());
    BRepBuilderAPI_Transform moved(original.shape, move, true);
    NamedShape solid{moved.Shape(), {}};
    for (const TopoDS_Shape& face : partsOf(original.shape, TopAbs_FACE))
        for (const std::string& name : original.names.of(face))
            solid.names.add(moved.ModifiedShape(face), Names{feature + "." + name});
    weigh(solid);
    return solid;
}

} // namespace

std::vector<NamedShape> buildTool(const Tool& tool, const std::string& feature) {
    if (const Again* again = std::get_if<Again>(&tool.is)) return {buildAgain(again->solid, tool.place, feature)};
    if (const Prism* prism = std::get_if<Prism>(&tool.is)) return buildPrism(*prism, tool.place, feature);
    return buildTurned(std::get<Turned>(tool.is), tool.place, feature);
}
