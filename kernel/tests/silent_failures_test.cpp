// Cases in which the library was seen to succeed falsely, or to fail without a word (measured on Open CASCADE 7.6.3):
// each must be refused by name.
#include "check.hpp"
#include "recipes.hpp"

namespace {

Json roundedBlock(double radius) {
    return {join("lug", {block("lug", {0, 0, 0}, {20, 10, 5})}),
            roundOf("lug_round", "edge_round", {{"edgesOf", "lug"}}, radius)};
}

Json twoBlocks(double gap) {
    return {join("a", {block("a", {0, 0, 0}, {10, 10, 10})}), join("b", {block("b", {10 + gap, 0, 0}, {10, 10, 10})})};
}

} // namespace

TEST("a_round_on_every_edge_that_is_too_big_is_refused_by_arithmetic") {
    Worker worker;
    for (const double radius : {2.5, 2.6, 5.0}) {
        const Json error = worker.refused(roundedBlock(radius));
        check(error["kind"] == "refused" && error["feature"] == "lug_round", error.dump());
        checkHolds(error["why"], "does not fit: edge between lug.");
        checkHolds(error["why"], radius < 5 ? "is only 5.0 wide" : "wide");
    }
}

TEST("a_round_on_every_edge_that_fits_is_exact") {
    // A block is what a smaller block becomes when a ball rolls round it: Steiner's formula.
    const double r = 2.4, a = 20 - 2 * r, b = 10 - 2 * r, c = 5 - 2 * r;
    const double exact =
        a * b * c + 2 * r * (a * b + b * c + c * a) + pi * r * r * (a + b + c) + 4 * pi * r * r * r / 3;
    Worker worker;
    checkNear(worker.built(roundedBlock(r))["volumeMm3"], exact, 1e-6 * exact, "volume");
}

TEST("a_round_as_wide_as_the_face_beside_it_is_refused") {
    Worker worker;
    const auto one = [](double radius) {
        return Json{join("b", {block("b", {0, 0, 0}, {20, 10, 5})}),
                    roundOf("r", "edge_round", {{"meeting", {"b.top", "b.front"}}}, radius)};
    };
    worker.built(one(4.9));
    checkHolds(worker.refused(one(5.0))["why"], "the face b.front is only 5.0 wide");
}

TEST("a_boss_beside_a_gap_is_joined_or_refused_but_never_two_solids") {
    Worker worker;
    for (const double gap : {0.0, 1e-8, 1e-7, 2e-7, 4e-7}) {
        const Json answer = worker.build(twoBlocks(gap));
        if (answer["ok"])
            checkNear(answer["volumeMm3"], 2000, 1e-3, "volume of one solid");
        else
            check(answer["error"]["feature"] == "b", answer.dump());
    }
    for (const double gap : {5e-7, 1e-6, 1e-3}) {
        const Json error = worker.refused(twoBlocks(gap));
        check(error["kind"] == "refused" && error["feature"] == "b", error.dump());
        checkHolds(error["why"], "b does not touch the rest");
    }
}

TEST("blocks_that_share_an_edge_only_are_refused") {
    Worker worker;
    const Json error = worker.refused(
        {join("a", {block("a", {0, 0, 0}, {10, 10, 10})}), join("b", {block("b", {10, 10, 0}, {10, 10, 10})})});
    checkHolds(error["why"], "b does not touch the rest");
}

TEST("cuts_that_do_nothing_everything_or_part_in_two_are_refused") {
    Worker worker;
    const Json base = join("a", {block("a", {0, 0, 0}, {10, 10, 10})});
    const auto why = [&](P3 corner, P3 size) -> std::string {
        const Json error = worker.refused({base, cut("c", {block("c", corner, size)})});
        check(error["kind"] == "refused" && error["feature"] == "c", error.dump());
        return error["why"];
    };
    checkHolds(why({20, 0, 0}, {5, 5, 5}), "c cuts nothing");
    checkHolds(why({10, 0, 0}, {5, 5, 5}), "c cuts nothing");
    checkHolds(why({-1, -1, -1}, {12, 12, 12}), "c removes everything");
    checkHolds(why({4, -1, -1}, {2, 12, 12}), "c cuts the part in two");
}

TEST("outlines_that_cannot_be_are_refused") {
    Worker worker;
    const auto why = [&](const Json& loop) -> std::string {
        return worker.refused({join("p", {prism(place(), {{"loop", loop}}, 0, 2)})})["why"];
    };
    checkHolds(why({line({0, 0}, {10, 10}), line({10, 10}, {10, 0}), line({10, 0}, {0, 8}), line({0, 8}, {0, 0})}),
               "crosses or touches itself");
    checkHolds(why({line({0, 0}, {10, 0}), line({10, 0}, {0, 0})}), "encloses no area");
}
