// Solids that were built before, put elsewhere and joined.
#include "check.hpp"
#include "recipes.hpp"

namespace {

Json again(const std::string& key, const Json& where) {
    return Json{{"place", where}, {"again", key}};
}

/// A ring 10 high, 6 wide inside and 2 thick.
std::string ringIn(Worker& worker) {
    return worker.built(Json::array({join("ring", {disc("ring", {0, 0, 0}, 5, 10)}),
                                     cut("bore", {disc("bore", {0, 0, 0}, 3, 10)})}))["key"];
}

double diameterOf(Worker& worker, const std::string& key, const std::string& face, const std::string& way) {
    const Json answer = worker.ask(
        {{"do", "caliper"},
         {"key", key},
         {"readings", Json::array({Json{{"id", "r1"}, {"way", way}, {"of", Json::array({face})}}})}});
    check(answer["ok"], answer.dump());
    check(answer["readings"][0]["ok"], answer.dump());
    return answer["readings"][0]["mm"];
}

} // namespace

TEST("a_solid_is_put_twice_on_a_strip_and_each_copy_has_its_own_names") {
    Worker worker;
    const std::string ring = ringIn(worker);
    // The second lies on its side: its axis along x, its middle 20 up.
    const Json strip = worker.built(Json::array({
        join("strip", {block("strip", {-10, -10, -2}, {60, 20, 3})}),
        join("first", {again(ring, place())}),
        join("second", {again(ring, place({20, 0, 5}, {0, 1, 0}, {0, 0, 1}, {1, 0, 0}))}),
    }));
    // Each ring reaches into the strip: the first by a slice 1 high, the second by a segment 1 deep of its 10 long side
    // (strip's top at 1; the axis at 5, radius 5, bore 3 clear of it).
    const double ringMm3 = pi * (25 - 9) * 10, slice = pi * (25 - 9), h = 1, r = 5,
                 segment = (r * r * std::acos((r - h) / r) - (r - h) * std::sqrt(2 * r * h - h * h)) * 10;
    checkNear(strip["volumeMm3"], 60 * 20 * 3 + 2 * ringMm3 - slice - segment, 1e-6, "volume");
    const std::string key = strip["key"];
    checkNear(diameterOf(worker, key, "first.bore.side", "inside"), 6, 1e-9, "bore of the first");
    checkNear(diameterOf(worker, key, "second.bore.side", "inside"), 6, 1e-9, "bore of the second");
}

TEST("what_is_not_kept_or_would_be_mirrored_is_refused") {
    Worker worker;
    const Json missing = worker.refused(join("a", {again("nothing", place())}));
    check(missing["kind"] == "missing", missing.dump());
    const std::string ring = ringIn(worker);
    const Json mirrored = worker.refused(join("a", {again(ring, place({0, 0, 0}, {-1, 0, 0}))}));
    check(mirrored["kind"] == "request", mirrored.dump());
}
