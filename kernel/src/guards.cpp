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

double volumeOf(const TopoDS_Shape& solid) {
    GProp_GProps properties;
    BRepGProp::VolumeProperties(solid, properties);
    return properties.Mass();
}

void guardSolid(const TopoDS_Shape& solid, const VolumeBound& volume, const Box& box, const std::string& feature) {
    const auto refuse = [&](const std::string& why) {
        throw Refusal("wrong", feature + " came out wrong: " + why, feature);
    };

    for (const TopoDS_Shape& shell : partsOf(solid, TopAbs_SHELL))
        if (!BRep_Tool::IsClosed(shell)) refuse("the solid is not closed");
    if (!BRepCheck_Analyzer(solid).IsValid()) refuse("the solid is not valid");

    const double is = volumeOf(solid);
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

void guardMesh(const TopoDS_Shape& solid, const std::string& feature, Deadline& deadline) {
    constexpr double chordMm = 0.05, angleDeg = 20;
    std::vector<TopoDS_Face> faces;
    double roundArea = 0;
    for (const TopoDS_Shape& face : partsOf(solid, TopAbs_FACE)) {
        faces.push_back(TopoDS::Face(face));
        if (BRepAdaptor_Surface(faces.back()).GetType() == GeomAbs_Plane) continue;
        GProp_GProps area;
        BRepGProp::SurfaceProperties(face, area);
        roundArea += area.Mass();
    }
    const Mesh mesh = meshOf(solid, faces, chordMm, angleDeg, deadline);
    if (!mesh.isWatertight()) throw Refusal("wrong", feature + " came out wrong: its mesh has gaps", feature);
    const double exact = volumeOf(solid), off = std::abs(mesh.volumeMm3() - exact);
    if (off > 0.001 * exact + mesh.worstChordMm * roundArea)
        throw Refusal("wrong",
                      feature + " came out wrong: its mesh holds " + inWords(mesh.volumeMm3()) + " mm³ instead of " +
                          inWords(exact),
                      feature);
}
