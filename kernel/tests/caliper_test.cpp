// Each reading on the exact solid equals what the sizes of the recipe make it.
#include "check.hpp"
#include "recipes.hpp"

namespace {

struct Case {
    const char* way;
    std::vector<std::string> of;
    double mm;
    std::vector<double> across = {};
};

Json take(Worker& worker, const Json& key, const Case& c) {
    Json reading = {{"id", "r"}, {"way", c.way}, {"of", c.of}};
    if (!c.across.empty()) reading["across"] = c.across;
    const Json answer = worker.ask({{"do", "caliper"}, {"key", key}, {"readings", Json::array({reading})}});
    check(answer["ok"], answer.dump());
    return answer["readings"][0];
}

} // namespace

TEST("the_caliper_reads_the_sizes_back") {
    Worker worker;
    const Json key = worker.built(knuckle())["key"];
    const Case cases[] = {{"outside", {"socket.side"}, 17},
                          {"outside", {"socket.side", "bore.wall"}, 2.4},
                          {"inside", {"bore.wall"}, 12.2},
                          {"depth", {"socket.top", "bore.end"}, 36},
                          {"outside", {"foot.bottom", "socket.top"}, 53},
                          {"step", {"socket.top", "foot.top"}, 48},
                          {"outside", {"foot.rim"}, 20, {1, 0, 0}},
                          {"outside", {"foot.rim"}, 54, {0, 1, 0}},
                          {"outside", {"foot.rim"}, 20 + 34 * std::sqrt(0.5), {1, 1, 0}},
                          {"outside", {"lug.front", "lug.back"}, 6},
                          {"outside", {"socket.side", "lug.right"}, 46.5},
                          {"outside", {"socket.side", "pin_hole.wall"}, 34},
                          {"outside", {"pin_hole.wall", "lug.right"}, 7.5},
                          {"inside", {"screw_hole#1.wall", "screw_hole#2.wall"}, 38.5},
                          {"outside", {"screw_hole#1.wall", "screw_hole#2.wall"}, 29.5}};
    for (const Case& c : cases) {
        const Json reading = take(worker, key, c);
        check(reading["ok"], reading.dump());
        checkNear(reading["mm"], c.mm, 1e-9, std::string(c.way) + " " + c.of.front());
    }
}

TEST("readings_that_no_caliper_takes_are_refused_with_the_reason") {
    Worker worker;
    const Json key = worker.built(knuckle())["key"];
    const auto why = [&](const char* way, std::vector<std::string> of) -> std::string {
        const Json reading = take(worker, key, {way, std::move(of), 0});
        check(reading["ok"] == false && reading["mm"].is_null(), reading.dump());
        return reading["why"];
    };
    checkHolds(why("outside", {"foot.rim"}), "say across");
    checkHolds(why("inside", {"lug.front", "lug.back"}), "face away");
    checkHolds(why("outside", {"lug.front", "foot.top"}), "not parallel");
    checkHolds(why("outside", {"screw_hole#1.countersink"}), "is a cone");
    checkHolds(why("inside", {"bore.wall", "pin_hole.wall"}), "cross");
    checkHolds(why("outside", {"lid.top"}), "no face is named lid.top");
    checkHolds(why("outside", {"bore.wall"}), "hollow");
    checkHolds(why("outside", {"foot.top"}), "second element");
}
