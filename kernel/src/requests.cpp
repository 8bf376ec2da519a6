#include "requests.hpp"

#include "build.hpp"
#include "caliper.hpp"
#include "fault.hpp"
#include "fields.hpp"
#include "guards.hpp"
#include "mesh.hpp"
#include "refusal.hpp"
#include "section.hpp"
#include "step.hpp"
#include "surfaces.hpp"
#include "view.hpp"

#include <ShapeAnalysis_ShapeTolerance.hxx>
#include <cstring>

namespace {

template <class T> Bytes bytesOf(const std::vector<T>& values) {
    Bytes bytes(values.size() * sizeof(T));
    if (!bytes.empty()) std::memcpy(bytes.data(), values.data(), bytes.size());
    return bytes;
}

std::shared_ptr<const Kept> keptUnder(const std::string& key, Shelf& shelf) {
    const auto kept = shelf.find(key);
    if (!kept) throw Refusal("missing", "no solid is kept under the key " + key + "; build it again");
    return kept;
}

std::shared_ptr<const Kept> solidOf(const Fields& request, Shelf& shelf) {
    return keptUnder(request.at("key").text(), shelf);
}

void lookUpSolids(Recipe& recipe, Shelf& shelf) {
    for (Feature& feature : recipe)
        if (auto* combination = std::get_if<Combination>(&feature.is))
            for (Tool& tool : combination->tools)
                if (auto* again = std::get_if<Again>(&tool.is)) again->solid = keptUnder(again->key, shelf)->solid;
}

Deadline deadlineOf(const Fields& request, const Progress& progress) {
    return Deadline(request.numberOr("deadlineMs", 20000), progress);
}

/// What is said of any solid: key, faces, and its mass properties for density 1.
const Answer& describe(const Kept& kept) {
    Answer& answer = kept.description;
    if (!answer.is_null()) return answer;
    answer["key"] = kept.key;
    auto& faces = answer["faces"] = Answer::array();
    Box box = kept.placedFaces().front().box;
    for (const PlacedFace& placed : kept.placedFaces()) {
        faces.push_back(describe(placed, kept.solid));
        box = around(box, placed.box);
    }

    const Weight& weight = kept.solid.weight;
    const gp_Pnt c = weight.centroid();
    const gp_Mat inertia = weight.inertia();
    answer["volumeMm3"] = weight.volumeMm3;
    answer["areaMm2"] = weight.areaMm2;
    answer["centroidMm"] = {c.X(), c.Y(), c.Z()};
    answer["inertiaMm5"] = {inertia(1, 1), inertia(2, 2), inertia(3, 3), inertia(1, 2), inertia(2, 3), inertia(3, 1)};
    answer["boxMm"] = {box.low, box.high};
    answer["hollows"] = partsOf(kept.solid.shape, TopAbs_SHELL).size() - 1;
    answer["maxToleranceMm"] = ShapeAnalysis_ShapeTolerance().Tolerance(kept.solid.shape, 1);
    return answer;
}

Reply answerBuild(const Fields& request, Shelf& shelf, LastMesh& lastMesh, const Progress& progress) {
    Recipe recipe = readRecipe(request.at("recipe").json());
    lookUpSolids(recipe, shelf);
    Deadline deadline = deadlineOf(request, progress);
    Built built = build(recipe, request.booleanOr("fullGuards", true), shelf, deadline);
    if (built.mesh) lastMesh = {built.kept->key, guardChordMm, guardAngleDeg, std::move(*built.mesh)};
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

Reply answerMesh(const Fields& request, Shelf& shelf, LastMesh& lastMesh, const Progress& progress) {
    const auto kept = solidOf(request, shelf);
    Deadline deadline = deadlineOf(request, progress);
    deadline.begin("meshing", 0, 1);
    const double chordMm = request.numberOr("chordMm", 0.01), angleDeg = request.numberOr("angleDeg", 10);
    if (chordMm < 1e-4) request.at("chordMm").refuse("0.0001 mm or more is expected");
    if (angleDeg < 0.5 || angleDeg > 90) request.at("angleDeg").refuse("0.5 to 90 degrees is expected");
    if (!lastMesh.is(kept->key, chordMm, angleDeg)) {
        Mesh made = meshOf(kept->solid.shape, kept->faces(), chordMm, angleDeg, deadline);
        if (!made.isWatertight()) throw Refusal("wrong", "the mesh has gaps");
        lastMesh = {kept->key, chordMm, angleDeg, std::move(made)};
    }
    const Mesh& mesh = lastMesh.mesh;
    Answer answer;
    answer["vertices"] = mesh.points.size();
    answer["triangles"] = mesh.triangles.size();
    answer["volumeMm3"] = mesh.volumeMm3();
    answer["worstChordMm"] = mesh.worstChordMm;
    return {answer, {bytesOf(mesh.points), bytesOf(mesh.triangles), bytesOf(mesh.faces)}};
}

Reply answerStep(const Fields& request, Shelf& shelf) {
    const auto kept = solidOf(request, shelf);
    const StepHead head{request.textOr("schema", "AP242"), request.textOr("partName", "part"),
                        request.textOr("writtenAt", "")};
    if (head.schema != "AP242" && head.schema != "AP214") request.at("schema").refuse("AP242 or AP214 is expected");
    writeStep(kept->solid.shape, request.at("path").text(), head);
    return {Answer::object(), {}};
}

Reply answerReadStep(const Fields& request, Shelf& shelf) {
    const std::string path = request.at("path").text();
    NamedShape read{readStep(path), {}};
    if (partsOf(read.shape, TopAbs_FACE).empty()) throw Refusal("failed", "the file " + path + " holds no face");
    weigh(read);
    return {describe(*shelf.keep(Kept("a file", path, std::move(read), {}))), {}};
}

Reply answerView(const Fields& request, Shelf& shelf) {
    const auto kept = solidOf(request, shelf);
    const gp_Vec toward = request.at("toward").direction(), up = request.at("up").direction();
    if (std::abs(toward.Dot(up)) > 1e-9) request.at("up").refuse("it must be square to toward");
    const ViewWish wish{gp_Dir(toward), gp_Dir(up), request.booleanOr("hidden", true),
                        request.numberOr("chordMm", 0.02)};
    const auto lines = viewOf(kept->solid.shape, wish);
    Answer answer;
    auto& list = answer["lines"] = Answer::array();
    double low[2] = {1e300, 1e300}, high[2] = {-1e300, -1e300};
    for (const ViewLine& line : lines) {
        Answer points = Answer::array();
        for (const gp_Pnt2d& p : line.points) {
            points.push_back({p.X(), p.Y()});
            for (int i = 0; i < 2; ++i) {
                low[i] = std::min(low[i], p.Coord(i + 1));
                high[i] = std::max(high[i], p.Coord(i + 1));
            }
        }
        list.push_back({{"kind", line.kind}, {"hidden", line.hidden}, {"points", std::move(points)}});
    }
    answer["boxMm"] = {{low[0], low[1]}, {high[0], high[1]}};
    return {answer, {}};
}

Reply answerSection(const Fields& request, Shelf& shelf) {
    const auto kept = solidOf(request, shelf);
    const gp_Pln plane(request.at("origin").point(), gp_Dir(request.at("normal").direction()));
    Answer answer;
    auto& loops = answer["loops"] = Answer::array();
    for (const SectionLoop& loop : sectionOf(kept->solid.shape, plane, request.numberOr("chordMm", 0.02))) {
        Answer points = Answer::array();
        for (const gp_Pnt& p : loop)
            points.push_back({p.X(), p.Y(), p.Z()});
        loops.push_back(std::move(points));
    }
    return {answer, {}};
}

Reading readReading(const Fields& fields) {
    Reading reading;
    const std::string way = fields.at("way").text();
    if (way == "outside")
        reading.way = Reading::Way::outside;
    else if (way == "inside")
        reading.way = Reading::Way::inside;
    else if (way == "depth")
        reading.way = Reading::Way::depth;
    else if (way == "step")
        reading.way = Reading::Way::step;
    else
        fields.at("way").refuse("outside, inside, depth or step is expected");
    reading.of = fields.at("of").texts();
    if (reading.of.empty() || reading.of.size() > 2) fields.at("of").refuse("one or two names are expected");
    if (fields.has("across")) reading.across = gp_Dir(fields.at("across").direction());
    if (fields.has("atPoint")) reading.atPoint = fields.at("atPoint").point();
    return reading;
}

Reply answerCaliper(const Fields& request, Shelf& shelf) {
    const auto kept = solidOf(request, shelf);
    const Fields readings = request.at("readings");
    Answer answer;
    auto& taken = answer["readings"] = Answer::array();
    for (std::size_t i = 0; i < readings.size(); ++i) {
        const Reading reading = readReading(readings.at(i));
        Answer line{{"id", readings.at(i).at("id").json()}};
        try {
            const double mm = take(reading, kept->solid);
            line.update({{"ok", true}, {"mm", mm}, {"why", nullptr}});
        } catch (const Refusal& refusal) {
            line.update({{"ok", false}, {"mm", nullptr}, {"why", refusal.why}});
        }
        taken.push_back(std::move(line));
    }
    return {answer, {}};
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
    if (what == "build") return answerBuild(request, shelf_, lastMesh_, progress);
    if (what == "mesh") return answerMesh(request, shelf_, lastMesh_, progress);
    if (what == "step") return answerStep(request, shelf_);
    if (what == "readStep") return answerReadStep(request, shelf_);
    if (what == "view") return answerView(request, shelf_);
    if (what == "section") return answerSection(request, shelf_);
    if (what == "caliper") return answerCaliper(request, shelf_);
    if (what == "forget") return answerForget(request, shelf_);
    if (what == "fault" && allowFaults_) {
        breakOnPurpose(request.at("how").text());
        return {Answer::object(), {}};
    }
    request.at("do").refuse("\"" + what + "\" is not something that this worker does");
}
