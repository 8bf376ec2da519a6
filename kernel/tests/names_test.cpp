// Names are carried from the recipe to the faces, through every operation.
#include "check.hpp"
#include "recipes.hpp"

#include <algorithm>
#include <set>

namespace {

std::vector<Json> facesNamed(const Json& answer, const std::string& name) {
    std::vector<Json> found;
    for (const Json& face : answer["faces"])
        if (std::find(face["names"].begin(), face["names"].end(), name) != face["names"].end()) found.push_back(face);
    return found;
}

Json oneNamed(const Json& answer, const std::string& name) {
    const auto found = facesNamed(answer, name);
    check(found.size() == 1, std::to_string(found.size()) + " faces are named " + name);
    return found.front();
}

} // namespace

TEST("flush_faces_bear_both_names") {
    Worker worker;
    const Json answer = worker.built(
        {join("a", {block("a", {0, 0, 0}, {10, 10, 5})}), join("b", {block("b", {10, 0, 0}, {10, 10, 5})})});
    check(answer["faces"].size() == 6, "two flush blocks have six faces");
    for (const std::string side : {"top", "bottom", "front", "back"}) {
        const Json face = oneNamed(answer, "a." + side);
        check(face["names"] == Json({"a." + side, "b." + side}), "flush: " + face["names"].dump());
    }
    check(facesNamed(answer, "a.right").empty() && facesNamed(answer, "b.left").empty(), "inner faces are gone");
}

TEST("every_face_of_the_knuckle_is_named") {
    Worker worker;
    const Json answer = worker.built(knuckle());
    for (const Json& face : answer["faces"])
        check(!face["names"].empty(), "no name: " + face.dump());
    check(oneNamed(answer, "socket.top")["names"] == Json({"lug.top", "socket.top"}),
          "the lug is flush with the socket");
    check(oneNamed(answer, "lug.right")["type"] == "cylinder", "the rounded end is still lug.right");
    checkNear(oneNamed(answer, "pin_hole.wall")["radius"], 2.5, 1e-12, "pin hole radius");
    checkNear(oneNamed(answer, "lug.right")["radius"], 10, 1e-12, "lug end radius");
    check(oneNamed(answer, "socket.side")["bulges"] == true && oneNamed(answer, "bore.wall")["bulges"] == false,
          "a boss bulges, a bore does not");
    check(facesNamed(answer, "foot.rim").size() == 4, "the belt has four sides");
}

TEST("a_fillet_that_ran_on_bears_the_second_name_too") {
    Worker worker;
    const Json answer = worker.built(knuckle());
    check(oneNamed(answer, "lug_root_behind.face")["names"] == Json({"lug_root.face", "lug_root_behind.face"}),
          "the fillet behind the lug has both names");
    Json other = knuckle();
    other.back()["radius"] = 2.0;
    checkHolds(worker.refused(other)["why"], "lug_root has already run on");
}

TEST("a_mirror_image_keeps_names_and_sense") {
    const auto shape = [](const Json& at) {
        const Json loop = {line({0, 0}, {10, 0}, "d.low"), line({10, 0}, {10, 4}, "d.side"),
                           arc({10, 4}, {6, 8}, {6, 4}, "left", "d.round"), line({6, 8}, {0, 0}, "d.slant")};
        return Json{join("d", {prism(at, {{"loop", loop}}, 1, 3, "d.from", "d.to")})};
    };
    Worker worker;
    const Json right = worker.built(shape(place())), left = worker.built(shape(place({0, 0, 0}, {-1, 0, 0})));
    checkNear(left["volumeMm3"], right["volumeMm3"], 1e-9, "volume of the mirror image");
    for (const Json& face : right["faces"]) {
        const Json image = oneNamed(left, face["names"][0]);
        checkNear(image["boxMm"][0][0], -face["boxMm"][1][0].get<double>(), 1e-9, "mirrored low x");
        checkNear(image["boxMm"][1][0], -face["boxMm"][0][0].get<double>(), 1e-9, "mirrored high x");
        check(image["type"] == face["type"] && image["bulges"] == face["bulges"], "same kind of face");
    }
    check(oneNamed(left, "d.round")["bulges"] == true, "the mirrored round still bulges");
}

TEST("turned_shapes_give_exact_faces") {
    const Json loop = {line({0, 0}, {8, 0}, "t.bottom"), line({8, 0}, {8, 3}, "t.side"),
                       line({8, 3}, {5, 6}, "t.taper"), arc({5, 6}, {0, 11}, {0, 6}, "left", "t.dome"),
                       line({0, 11}, {0, 0})};
    Worker worker;
    const Json answer = worker.built({join("t", {Json{{"place", place({0, 0, 5})}, {"turned", loop}}})});
    const std::pair<const char*, const char*> kinds[] = {
        {"t.bottom", "plane"}, {"t.side", "cylinder"}, {"t.taper", "cone"}, {"t.dome", "sphere"}};
    for (const auto& [name, type] : kinds)
        check(oneNamed(answer, name)["type"] == type, std::string(name) + " is no " + type);
    // cylinder + frustum + half sphere
    checkNear(answer["volumeMm3"], pi * (64 * 3 + (64 + 40 + 25) + 125 * 2 / 3.0), 1e-6, "volume");
    checkNear(answer["boxMm"][1][2], 16, 1e-9, "top of the dome");
}

TEST("outlines_combine_and_keep_the_names_of_their_pieces") {
    Worker worker;
    const Json two = {circle({0, 0}, 5, "p.one"), circle({6, 0}, 5, "p.two")};
    const double lens = 2 * 25 * std::acos(0.6) - 6 * 4; // two equal circles, centres 6 apart, half chord 4
    const std::pair<const char*, double> areas[] = {
        {"joined", 50 * pi - lens}, {"takenAway", 25 * pi - lens}, {"overlapped", lens}};
    for (const auto& [how, area] : areas) {
        const Json answer = worker.built({join("p", {prism(place(), {{how, two}}, 0, 2, "p.bottom", "p.top")})});
        checkNear(answer["volumeMm3"], 2 * area, 1e-6, how);
        oneNamed(answer, "p.one");
        oneNamed(answer, "p.two");
    }
}
