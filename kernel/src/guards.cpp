#include "guards.hpp"

#include "mesh.hpp"
#include "refusal.hpp"
#include "words.hpp"

#include <BRepAdaptor_Surface.hxx>
#include <BRepCheck_Analyzer.hxx>
#include <BRepGProp.hxx>
#include <BRep_Tool.hxx>
#include <GProp_GProps.hxx>
#include <ShapeAnalysis_ShapeTolerance.hxx>
#include <TopoDS.hxx>
#include <algorithm>

void weigh(NamedShape& solid) {
    solid.mass = GProp_GProps();
    BRepGProp::VolumeProperties(solid.shape, solid.mass);
}

void guardSolid(NamedShape& named, const VolumeBound& volume, const Box& box, const std::string& feature) {
    const TopoDS_Shape& solid = named.shape;
    const auto refuse = [&](const std::string& why) {
        throw Refusal("wrong", feature + " came out wrong: " + why, feature);
    };

    for (const TopoDS_Shape& shell : partsOf(solid, TopAbs_SHELL))
        if (!BRep_Tool::IsClosed(shell)) refuse("the solid is not closed");
    if (!BRepCheck_Analyzer(solid).IsValid()) refuse("the solid is not valid");

    weigh(named);
    const double is = named.volumeMm3();
    const double slack = 1e-6 * std::max(volume.mostMm3, 1.0);
    if (is < volume.leastMm3 - slack || is > volume.mostMm3 + slack)
        refuse("its volume is " + inWords(is) + " mm³, which must lie between " + inWords(volume.leastMm3) + " and " +
               inWords(volume.mostMm3));

    const Box reached = boxOf(solid);
    for (int i = 0; i < 3; ++i)
        if (reached.low[i] < box.low[i] - 1e-4 || reached.high[i] > box.high[i] + 1e-4)
            refuse(std::string("it reaches from ") + inWords(reached.low[i]) + " to " + inWords(reached.high[i]) +
                   " along " + "xyz"[i] + ", which must lie between " + inWords(box.low[i]) + " and " +
                   inWords(box.high[i]));

    const double tolerance = ShapeAnalysis_ShapeTolerance().Tolerance(solid, 1);
    if (tolerance > 1e-4) refuse("faces meet only within " + inWords(tolerance) + " mm");
}

void guardMesh(const NamedShape& solid, const std::string& feature, Deadline& deadline) {
    constexpr double chordMm = 0.05, angleDeg = 20;
    std::vector<TopoDS_Face> faces;
    for (const TopoDS_Shape& face : partsOf(solid.shape, TopAbs_FACE))
        faces.push_back(TopoDS::Face(face));
    const Mesh mesh = meshOf(solid.shape, faces, chordMm, angleDeg, deadline);
    if (!mesh.isWatertight()) throw Refusal("wrong", feature + " came out wrong: its mesh has gaps", feature);

    double roundArea = 0; // where the chords may take something away
    for (std::size_t i = 0; i < mesh.triangles.size(); ++i)
        if (BRepAdaptor_Surface(faces[mesh.faces[i]], false).GetType() != GeomAbs_Plane) roundArea += mesh.areaMm2(i);
    const double exact = solid.volumeMm3(), is = mesh.volumeMm3();
    if (std::abs(is - exact) > 0.001 * exact + mesh.worstChordMm * roundArea)
        throw Refusal("wrong",
                      feature + " came out wrong: its mesh holds " + inWords(is) + " mm³ instead of " + inWords(exact),
                      feature);
}
