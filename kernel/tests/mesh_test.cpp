#include "check.hpp"
#include "recipes.hpp"

#include <cstdint>
#include <map>

namespace {

struct Meshed {
    std::vector<double> points;
    std::vector<std::uint32_t> triangles, faces;
    std::vector<std::string> blocks;
    Json answer;
};

Meshed mesh(Worker& worker, const Json& recipe, double chordMm) {
    const Json built = worker.built(recipe);
    Json answer = worker.ask({{"do", "mesh"}, {"key", built["key"]}, {"chordMm", chordMm}});
    check(answer["ok"], answer.dump());
    return {numbersIn<double>(worker.blocks.at(0)), numbersIn<std::uint32_t>(worker.blocks.at(1)),
            numbersIn<std::uint32_t>(worker.blocks.at(2)), worker.blocks, answer};
}

} // namespace

TEST("the_mesh_is_watertight_outward_and_within_the_chord") {
    Worker worker;
    const Meshed m = mesh(worker, knuckle(), 0.01);
    check(m.points.size() == 3 * m.answer["vertices"].get<std::size_t>(), "points");
    check(m.triangles.size() == 3 * m.answer["triangles"].get<std::size_t>() &&
              m.faces.size() * 3 == m.triangles.size(),
          "triangles");
    std::map<std::pair<std::uint32_t, std::uint32_t>, int> times;
    double six = 0;
    for (std::size_t i = 0; i < m.triangles.size(); i += 3) {
        const double* p[3];
        for (int k = 0; k < 3; ++k) {
            ++times[{m.triangles[i + k], m.triangles[i + (k + 1) % 3]}];
            p[k] = &m.points[3 * m.triangles[i + k]];
        }
        six += p[0][0] * (p[1][1] * p[2][2] - p[1][2] * p[2][1]) + p[0][1] * (p[1][2] * p[2][0] - p[1][0] * p[2][2]) +
               p[0][2] * (p[1][0] * p[2][1] - p[1][1] * p[2][0]);
    }
    for (const auto& [edge, count] : times)
        check(count == 1 && times.contains({edge.second, edge.first}), "an edge does not lie between two triangles");
    const double exact = worker.built(knuckle())["volumeMm3"];
    checkNear(six / 6, exact, 0.001 * exact, "volume of the mesh");
    check(m.answer["worstChordMm"] <= 0.01, "worst chord " + m.answer["worstChordMm"].dump());
}

TEST("a_ball_is_meshed_within_the_chord_and_to_its_pole") {
    const Json loop = {arc({0, -5}, {0, 5}, {0, 0}, "left", "ball.side"), line({0, 5}, {0, -5})};
    Worker worker;
    const Meshed m = mesh(worker, {join("ball", {Json{{"place", place()}, {"turned", loop}}})}, 0.02);
    double worst = 0;
    for (std::size_t i = 0; i < m.triangles.size(); i += 3) {
        double c[3] = {};
        for (int k = 0; k < 3; ++k)
            for (int axis = 0; axis < 3; ++axis)
                c[axis] += m.points[3 * m.triangles[i + k] + axis] / 3;
        worst = std::max(worst, 5 - std::hypot(c[0], c[1], c[2]));
    }
    check(worst <= 0.02 && worst > 0, "worst middle of a triangle " + std::to_string(worst));
}

TEST("the_same_recipe_gives_the_same_bytes") {
    Worker first, second;
    const Json partOf = knuckle(0.8, 0);
    first.built(partOf); // what was kept on the way must not show
    const Meshed a = mesh(first, knuckle(), 0.02), b = mesh(second, knuckle(), 0.02),
                 again = mesh(first, knuckle(), 0.02);
    check(a.blocks == b.blocks, "two workers differ");
    check(a.blocks == again.blocks, "a second mesh differs");
    Json one = first.built(knuckle()), other = second.built(knuckle());
    for (Json* answer : {&one, &other})
        for (const char* timed : {"features", "guardMs", "id"})
            answer->erase(timed);
    check(one == other, "two answers differ");
}

TEST("only_features_after_the_first_change_are_built_again") {
    Worker worker;
    worker.built(knuckle(0.8, 1.5));
    const Json answer = worker.built(knuckle(0.8, 1.2));
    for (const Json& feature : answer["features"])
        check(feature["fromCache"] == (feature["name"].get<std::string>().find("lug_root") == std::string::npos),
              feature.dump());
}

TEST("the_mesh_of_the_guard_is_the_mesh_that_is_shown") {
    Worker guarded, unguarded;
    const Json key = guarded.built(knuckle())["key"];
    check(unguarded.ask({{"do", "build"}, {"recipe", knuckle()}, {"fullGuards", false}})["ok"], "built unguarded");
    const Json request = {{"do", "mesh"}, {"key", key}, {"chordMm", 0.05}};
    const Json kept = guarded.ask(request);
    Json made = unguarded.ask(request);
    made["id"] = kept["id"];
    check(kept["ok"] && kept == made, kept.dump() + made.dump());
    check(guarded.blocks == unguarded.blocks, "the bytes differ");
    const std::vector<std::string> shown = guarded.blocks;
    guarded.ask({{"do", "mesh"}, {"key", key}, {"chordMm", 0.02}});
    guarded.ask(request);
    check(guarded.blocks == shown, "another mesh in between shows");
}
