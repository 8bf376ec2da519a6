#include "guards.hpp"

#include "refusal.hpp"
#include "words.hpp"

#include <BRepAdaptor_Surface.hxx>
#include <BRepCheck_Analyzer.hxx>
#include <BRepCheck_ListOfStatus.hxx>
#include <BRepCheck_Shell.hxx>
#include <BRepCheck_Solid.hxx>
#include <BRep_Tool.hxx>
#include <ShapeAnalysis_ShapeTolerance.hxx>
#include <TopExp_Explorer.hxx>
#include <TopoDS.hxx>
#include <algorithm>

void weigh(NamedShape& solid) {
    solid.weight = Weight();
    for (TopExp_Explorer it(solid.shape, TopAbs_FACE); it.More(); it.Next())
        solid.weight += solid.known.weight(TopoDS::Face(it.Current()));
}

bool isValid(const NamedShape& solid) {
    const auto finds = [](const BRepCheck_ListOfStatus& list) {
        return std::any_of(list.begin(), list.end(), [](BRepCheck_Status s) { return s != BRepCheck_NoError; });
    };
    // How the faces hang together is looked at anew each time, each face by itself once.
    for (const TopoDS_Shape& shape : partsOf(solid.shape, TopAbs_SHELL)) {
        const Handle(BRepCheck_Shell) shell = new BRepCheck_Shell(TopoDS::Shell(shape));
        if (finds(shell->Status()) || shell->Closed() != BRepCheck_NoError || shell->Orientation() != BRepCheck_NoError)
            return false;
    }
    for (const TopoDS_Shape& shape : partsOf(solid.shape, TopAbs_SOLID)) {
        const Handle(BRepCheck_Solid) whole = new BRepCheck_Solid(TopoDS::Solid(shape));
        if (finds(whole->Status())) return false;
    }
    for (TopExp_Explorer it(solid.shape, TopAbs_FACE); it.More(); it.Next())
        if (!solid.known.isValid(TopoDS::Face(it.Current()))) return false;
    return true;
}

void guardSolid(NamedShape& named, const VolumeBound& volume, const Box& box, const std::string& feature) {
    const TopoDS_Shape& solid = named.shape;
    const auto refuse = [&](const std::string& why) {
        throw Refusal("wrong", feature + " came out wrong: " + why, feature);
    };

    for (const TopoDS_Shape& shell : partsOf(solid, TopAbs_SHELL))
        if (!BRep_Tool::IsClosed(shell)) refuse("the solid is not closed");
    if (!isValid(named)) refuse("the solid is not valid");

    weigh(named);
    const double is = named.volumeMm3();
    const double slack = 1e-6 * std::max(volume.mostMm3, 1.0);
    if (is < volume.leastMm3 - slack || is > volume.mostMm3 + slack)
        refuse("its volume is " + inWords(is) + " mm³, which must lie between " + inWords(volume.leastMm3) + " and " +
               inWords(volume.mostMm3));

    const Box reached = named.box();
    for (int i = 0; i < 3; ++i)
        if (reached.low[i] < box.low[i] - 1e-4 || reached.high[i] > box.high[i] + 1e-4)
            refuse(std::string("it reaches from ") + inWords(reached.low[i]) + " to " + inWords(reached.high[i]) +
                   " along " + "xyz"[i] + ", which must lie between " + inWords(box.low[i]) + " and " +
                   inWords(box.high[i]));

    const double tolerance = ShapeAnalysis_ShapeTolerance().Tolerance(solid, 1);
    if (tolerance > 1e-4) refuse("faces meet only within " + inWords(tolerance) + " mm");
}

Mesh guardMesh(const NamedShape& solid, const std::vector<TopoDS_Face>& faces, const std::string& feature,
               Deadline& deadline) {
    // The faces were looked at one by one, when they were new; here all of it at once.
    if (!BRepCheck_Analyzer(solid.shape).IsValid())
        throw Refusal("wrong", feature + " came out wrong: the solid is not valid", feature);
    Mesh mesh = meshOf(solid.shape, faces, guardChordMm, guardAngleDeg, deadline);
    if (!mesh.isWatertight()) throw Refusal("wrong", feature + " came out wrong: its mesh has gaps", feature);

    double roundArea = 0; // where the chords may take something away
    for (std::size_t i = 0; i < mesh.triangles.size(); ++i)
        if (BRepAdaptor_Surface(faces[mesh.faces[i]], false).GetType() != GeomAbs_Plane) roundArea += mesh.areaMm2(i);
    const double exact = solid.volumeMm3(), is = mesh.volumeMm3();
    if (std::abs(is - exact) > 0.001 * exact + mesh.worstChordMm * roundArea)
        throw Refusal("wrong",
                      feature + " came out wrong: its mesh holds " + inWords(is) + " mm³ instead of " + inWords(exact),
                      feature);
    return mesh;
}
