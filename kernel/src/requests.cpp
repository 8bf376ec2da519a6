#include "requests.hpp"

#include "build.hpp"
#include "fault.hpp"
#include "fields.hpp"
#include "guards.hpp"
#include "mesh.hpp"
#include "refusal.hpp"
#include "surfaces.hpp"

#include <BRepGProp.hxx>
#include <GProp_GProps.hxx>
#include <ShapeAnalysis_ShapeTolerance.hxx>
#include <cstring>
#include <limits>

namespace {

template <class T> Bytes bytesOf(const std::vector<T>& values) {
    Bytes bytes(values.size() * sizeof(T));
    if (!bytes.empty()) std::memcpy(bytes.data(), values.data(), bytes.size());
    return bytes;
}

std::shared_ptr<const Kept> solidOf(const Fields& request, Shelf& shelf) {
    const std::string key = request.at("key").text();
    const auto kept = shelf.find(key);
    if (!kept) throw Refusal("missing", "no solid is kept under the key " + key + "; build it again");
    return kept;
}

Deadline deadlineOf(const Fields& request, const Progress& progress) {
    return Deadline(request.numberOr("deadlineMs", 20000), progress);
}

/// What is said of any solid: key, faces, and its mass properties for density 1.
Answer describe(const Kept& kept) {
    Answer answer;
    answer["key"] = kept.key;
    auto& faces = answer["faces"] = Answer::array();
    for (const TopoDS_Face& face : kept.faces)
        faces.push_back(describe(face, kept.solid.names.of(face)));

    GProp_GProps inside, skin;
    BRepGProp::VolumeProperties(kept.solid.shape, inside);
    BRepGProp::SurfaceProperties(kept.solid.shape, skin);
    const gp_Pnt c = inside.CentreOfMass();
    const gp_Mat inertia = inside.MatrixOfInertia();
    const Box box = boxOf(kept.solid.shape);
    answer["volumeMm3"] = inside.Mass();
    answer["areaMm2"] = skin.Mass();
    answer["centroidMm"] = {c.X(), c.Y(), c.Z()};
    answer["inertiaMm5"] = {inertia(1, 1), inertia(2, 2), inertia(3, 3), inertia(1, 2), inertia(2, 3), inertia(3, 1)};
    answer["boxMm"] = {box.low, box.high};
    answer["hollows"] = partsOf(kept.solid.shape, TopAbs_SHELL).size() - 1;
    answer["maxToleranceMm"] = ShapeAnalysis_ShapeTolerance().Tolerance(kept.solid.shape, 1);
    return answer;
}

Reply answerBuild(const Fields& request, Shelf& shelf, const Progress& progress) {
    const Recipe recipe = readRecipe(request.at("recipe").json());
    Deadline deadline = deadlineOf(request, progress);
    const Built built = build(recipe, request.booleanOr("fullGuards", true), shelf, deadline);
    Answer answer = describe(*built.kept);
    auto& features = answer["features"] = Answer::array();
    for (const FeatureReport& report : built.features)
        features.push_back({{"name", report.name},
                            {"volumeMm3", report.volumeMm3},
                            {"ms", report.ms},
                            {"fromCache", report.fromCache}});
    answer["guardMs"] = built.guardMs;
    return {answer, {}};
}

Reply answerMesh(const Fields& request, Shelf& shelf, const Progress& progress) {
    const auto kept = solidOf(request, shelf);
    Deadline deadline = deadlineOf(request, progress);
    deadline.begin("meshing", 0, 1);
    const double chordMm = request.numberOr("chordMm", 0.01), angleDeg = request.numberOr("angleDeg", 10);
    if (chordMm < 1e-4) request.at("chordMm").refuse("0.0001 mm or more is expected");
    if (angleDeg < 0.5 || angleDeg > 90) request.at("angleDeg").refuse("0.5 to 90 degrees is expected");
    const Mesh mesh = meshOf(kept->solid.shape, kept->faces, chordMm, angleDeg, deadline);
    if (!mesh.isWatertight()) throw Refusal("wrong", "the mesh has gaps");
    Answer answer;
    answer["vertices"] = mesh.points.size();
    answer["triangles"] = mesh.triangles.size();
    answer["volumeMm3"] = mesh.volumeMm3();
    answer["worstChordMm"] = mesh.worstChordMm;
    return {answer, {bytesOf(mesh.points), bytesOf(mesh.triangles), bytesOf(mesh.faces)}};
}

Reply answerForget(const Fields& request, Shelf& shelf) {
    const std::string key = request.at("key").text();
    if (!shelf.forget(key)) throw Refusal("missing", "no solid is kept under the key " + key);
    return {Answer::object(), {}};
}

} // namespace

Reply Requests::answer(const Json& json, const Progress& progress) {
    const Fields request(json, "request");
    const std::string what = request.at("do").text();
    if (what == "build") return answerBuild(request, shelf_, progress);
    if (what == "mesh") return answerMesh(request, shelf_, progress);
    if (what == "forget") return answerForget(request, shelf_);
    if (what == "fault" && allowFaults_) {
        breakOnPurpose(request.at("how").text());
        return {Answer::object(), {}};
    }
    request.at("do").refuse("\"" + what + "\" is not something that this worker does");
}
