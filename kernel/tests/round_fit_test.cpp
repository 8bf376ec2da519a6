// What our own arithmetic refuses before the library is asked. Just below each limit the round must be there: nothing
// is refused that would work.
#include "check.hpp"
#include "recipes.hpp"

namespace {

Json chamferOf(const std::string& name, const Json& edges, double setback) {
    return {{"name", name}, {"does", "chamfer"}, {"edges", edges}, {"setback", setback}, {"angle", 45}};
}

Json meeting(const std::string& a, const std::string& b) {
    return {{"meeting", {a, b}}};
}

/// Refused by arithmetic, with the feature and a remedy named.
void checkRefused(Worker& worker, const Json& recipe, const std::string& why, const std::string& remedy) {
    const Json error = worker.refused(recipe);
    check(error["kind"] == "refused" && error["feature"] == recipe.back()["name"], error.dump());
    checkHolds(error["why"], why);
    check(error["advice"].is_string(), error.dump());
    checkHolds(error["advice"], remedy);
}

} // namespace

TEST("a_fillet_that_ends_just_on_the_rim_of_its_plate_is_refused") {
    Worker worker;
    const auto recipe = [](double radius) {
        return Json{plate(), join("k", {disc("k", {10, 5, 5}, 3, 8)}),
                    roundOf("f", "fillet", meeting("k.side", "b.top"), radius)};
    };
    worker.built(recipe(1.999));
    checkRefused(worker, recipe(2), "it would end just on the edge between b.top and b.",
                 "a radius below 2.0 fits there");
    worker.built(recipe(2.001));
}

TEST("a_fillet_that_ends_just_on_a_rim_met_where_its_edge_begins_is_refused") {
    // The library's circles begin at +x: there the narrowest place is the end of the closed edge.
    Worker worker;
    const auto recipe = [](double radius) {
        return Json{plate(), join("k", {disc("k", {16, 5, 5}, 2.5, 8)}),
                    roundOf("f", "fillet", meeting("k.side", "b.top"), radius)};
    };
    worker.built(recipe(1.499));
    checkRefused(worker, recipe(1.5), "it would end just on the edge between b.right and b.top, 1.5 away",
                 "a radius below 1.5 fits there");
}

TEST("a_round_that_ends_just_on_the_foot_of_a_boss_is_refused_and_another_order_advised") {
    Worker worker;
    const auto recipe = [](double radius) {
        return Json{plate(), join("k", {disc("k", {10, 3.5, 5}, 2, 8)}),
                    roundOf("f", "edge_round", meeting("b.top", "b.front"), radius)};
    };
    worker.built(recipe(1.499));
    checkRefused(worker, recipe(1.5),
                 "it would end just on the edge between b.top and k.side, 1.5 away on the face b.top",
                 "a radius below 1.5 fits there, or put f before k");
}

TEST("a_round_too_big_for_what_an_earlier_round_left_over_is_refused") {
    Worker worker;
    const auto recipe = [](double first, double second) {
        return Json{plate(), roundOf("t", "edge_round", meeting("b.top", "b.front"), first),
                    roundOf("q", "edge_round", meeting("b.bottom", "b.front"), second)};
    };
    worker.built(recipe(2, 2.99));
    checkRefused(worker, recipe(2, 3), "it would end just on the edge between b.front and t.face, 3.0 away",
                 "a radius below 3.0 fits there");
    checkRefused(worker, recipe(2, 3.01), "it would run into the edge between b.front and t.face, 3.0 away",
                 "a radius below 3.0 fits there");
    // A ball smaller than the earlier round can lie within it: up to half the thickness.
    worker.built(recipe(4, 2.4));
    checkRefused(worker, recipe(4, 2.51), "it would run into the edge between b.front and t.face, 1.0 away",
                 "a radius below 1.0 fits there");
}

TEST("a_rim_too_thin_for_a_second_round_is_refused_around_a_disc_too") {
    Worker worker;
    const auto recipe = [](double radius) {
        return Json{join("d", {disc("d", {0, 0, 0}, 12, 5)}), roundOf("t", "edge_round", meeting("d.top", "d.side"), 2),
                    roundOf("q", "edge_round", meeting("d.bottom", "d.side"), radius)};
    };
    worker.built(recipe(2.9));
    checkRefused(worker, recipe(3.1), "it would run into the edge between d.side and t.face, 3.0 away",
                 "a radius below 3.0 fits there");
}

TEST("fillets_of_two_bosses_whose_ball_does_not_pass_between_are_refused") {
    Worker worker;
    const auto recipe = [](double radius) {
        return Json{plate(), join("k", {disc("k", {6, 5, 5}, 2, 8)}), join("m", {disc("m", {12, 5, 5}, 2, 8)}),
                    roundOf("f", "fillet", meeting("k.side", "b.top"), radius),
                    roundOf("g", "fillet", meeting("m.side", "b.top"), radius)};
    };
    worker.built(recipe(0.99));
    checkRefused(worker, recipe(1), "it would end just on the edge between b.top and f.face, 1.0 away",
                 "a radius below 1.0 fits there");
    checkRefused(worker, recipe(1.2), "it would run into the edge between b.top and f.face, 0.8 away",
                 "a radius below 0.8 fits there");
}

TEST("a_chamfer_that_runs_over_a_hole_or_rim_is_refused") {
    Worker worker;
    const Json hole = cut("h", {prism(place({10, 3, -1}), circle({0, 0}, 2, "h.wall"), 0, 8)});
    const auto edge = [&](double setback) {
        return Json{plate(), hole, chamferOf("c", meeting("b.top", "b.front"), setback)};
    };
    const auto rim = [&](double setback) {
        return Json{plate(), hole, chamferOf("c", meeting("b.top", "h.wall"), setback)};
    };
    worker.built(edge(0.99));
    worker.built(rim(0.99));
    checkRefused(worker, edge(1.5), "it would run over the edge between b.top and h.wall, 1.0 away on the face b.top",
                 "a setback below 1.0 fits there, or put c before h");
    checkRefused(worker, rim(1.5), "it would run over the edge between b.front and b.top, 1.0 away",
                 "a setback below 1.0 fits there");
}

TEST("what_only_looks_too_big_is_made") {
    // A round may run over a rim, or onto an earlier round that bends the other way: the library makes both.
    Worker worker;
    worker.built(
        {plate(), join("k", {disc("k", {10, 5, 5}, 3, 8)}), roundOf("f", "fillet", meeting("k.side", "b.top"), 2.5)});
    worker.built({join("b", {block("b", {-20, -20, 0}, {60, 60, 5})}), join("k", {disc("k", {10, 5, 5}, 3, 5)}),
                  roundOf("t", "edge_round", meeting("k.side", "k.top"), 2),
                  roundOf("f", "fillet", meeting("k.side", "b.top"), 4)});
}

TEST("a_face_too_narrow_all_along_says_which_radius_would_fit") {
    Worker worker;
    checkRefused(worker, {plate(), roundOf("r", "edge_round", meeting("b.top", "b.front"), 6)},
                 "the face b.front is only 5.0 wide", "a radius below 5.0 fits there");
    checkRefused(worker, {plate(), roundOf("r", "edge_round", {{"edgesOf", "b"}}, 2.6)}, "is only 5.0 wide",
                 "a radius below 2.5 fits there");
}
