// Volume, area and inertia against the formulas of solid geometry.
#include "check.hpp"
#include "recipes.hpp"

namespace {

void checkAll(const Json& answer, const char* what, const std::vector<double>& expected, double within) {
    for (std::size_t i = 0; i < expected.size(); ++i)
        checkNear(answer[what][i], expected[i], within, std::string(what) + "[" + std::to_string(i) + "]");
}

} // namespace

TEST("a_ring_weighs_what_pappus_says") {
    const double far = 7, tube = 2; // radius of its middle line, of its tube
    Worker worker;
    const Json answer =
        worker.built(join("ring", {Json{{"place", place({3, -4, 50})},
                                        {"turned",
                                         {arc({far, -tube}, {far, tube}, {far, 0}, "left", "ring.side"),
                                          arc({far, tube}, {far, -tube}, {far, 0}, "left", "ring.side")}}}}));
    const double volume = 2 * pi * pi * far * tube * tube, area = 4 * pi * pi * far * tube;
    checkNear(answer["volumeMm3"], volume, 1e-11 * volume, "volume");
    checkNear(answer["areaMm2"], area, 1e-12 * area, "area");
    checkAll(answer, "centroidMm", {3, -4, 50}, 1e-10);
    const double about = volume * (far * far + 0.75 * tube * tube),
                 across = volume * (far * far / 2 + 0.625 * tube * tube);
    checkAll(answer, "inertiaMm5", {across, across, about, 0, 0, 0}, 1e-7);
}

TEST("a_cone_and_a_block_away_from_the_origin_weigh_what_their_formulas_say") {
    Worker worker;
    const double r = 6, h = 9;
    const Json cone = worker.built(join(
        "cone", {Json{{"place", place({-20, 5, 30})},
                      {"turned", {line({0, 0}, {r, 0}), line({r, 0}, {0, h}, "cone.side"), line({0, h}, {0, 0})}}}}));
    const double mass = pi * r * r * h / 3;
    checkNear(cone["volumeMm3"], mass, 1e-11 * mass, "volume of the cone");
    checkNear(cone["areaMm2"], pi * r * (r + std::hypot(r, h)), 1e-9, "area of the cone");
    checkAll(cone, "centroidMm", {-20, 5, 30 + h / 4}, 1e-10);
    const double across = 3 * mass * (r * r / 20 + h * h / 80);
    checkAll(cone, "inertiaMm5", {across, across, 0.3 * mass * r * r, 0, 0, 0}, 1e-7);

    const Json brick = worker.built(join("b", {block("b", {100, 200, 300}, {2, 3, 4})}));
    checkNear(brick["volumeMm3"], 24, 1e-10, "volume of the block");
    checkNear(brick["areaMm2"], 52, 1e-10, "area of the block");
    checkAll(brick, "inertiaMm5", {24 * 25 / 12.0, 24 * 20 / 12.0, 24 * 13 / 12.0, 0, 0, 0}, 1e-5);
}

TEST("cylinders_that_cross_share_what_archimedes_found") {
    // Two cylinders of one radius that cross squarely have 16 r³ / 3 in common.
    const double r = 5, length = 30;
    Worker worker;
    const Json answer = worker.built({join("a", {disc("a", {0, 0, -length / 2}, r, length)}),
                                      join("b", {prism(place({-length / 2, 0, 0}, {0, 1, 0}, {0, 0, 1}, {1, 0, 0}),
                                                       circle({0, 0}, r, "b.side"), 0, length)})});
    const double exact = 2 * pi * r * r * length - 16 * r * r * r / 3;
    checkNear(answer["volumeMm3"], exact, 1e-6 * exact, "volume");
    checkAll(answer, "centroidMm", {0, 0, 0}, 1e-6);
}
