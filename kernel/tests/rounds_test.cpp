#include "check.hpp"
#include "recipes.hpp"

namespace {

Json stepped() {
    return join("c", {block("c", {0, 0, 5}, {5, 10, 5})});
}

} // namespace

TEST("inner_and_outer_edges_are_not_confused") {
    Worker worker;
    checkHolds(worker.refused({plate(), roundOf("f", "fillet", {{"meeting", {"b.top", "b.front"}}}, 1)})["advice"],
               "edge round");
    checkHolds(worker.refused(
                   {plate(), stepped(), roundOf("f", "edge_round", {{"meeting", {"b.top", "c.right"}}}, 1)})["advice"],
               "fillet");
    const Json answer =
        worker.built({plate(), stepped(), roundOf("f", "fillet", {{"meeting", {"b.top", "c.right"}}}, 1)});
    checkNear(answer["volumeMm3"], 1250 + 10 * (1 - pi / 4), 1e-6, "volume");
}

TEST("near_picks_one_edge_and_except_leaves_out") {
    Worker worker;
    const Json near =
        worker.built({plate(), roundOf("f", "edge_round", {{"meeting", {"b", "b"}}, {"near", {20, 5, 5}}}, 1)});
    checkNear(near["volumeMm3"], 1000 - 10 * (1 - pi / 4), 1e-6, "one edge, 10 long");
    const Json except = worker.built(
        {plate(),
         roundOf("f", "edge_round",
                 {{"edgesOf", "b"}, {"except", Json::array({Json{"b.top", "b"}, Json{"b.bottom", "b"}})}}, 1)});
    checkNear(except["volumeMm3"], 1000 - 4 * 5 * (1 - pi / 4), 1e-6, "the four upright edges");
}

TEST("a_chamfer_has_its_angle_from_the_first_named_face") {
    Worker worker;
    const Json answer = worker.built({plate(), Json{{"name", "f"},
                                                    {"does", "chamfer"},
                                                    {"edges", {{"meeting", {"b.top", "b.front"}}}},
                                                    {"setback", 1},
                                                    {"angle", 30}}});
    checkNear(answer["volumeMm3"], 1000 - 20 * 0.5 * std::tan(pi / 6), 1e-9, "volume");
    for (const Json& face : answer["faces"])
        if (face["names"] == Json({"b.top"})) checkNear(face["areaMm2"], 20 * 9, 1e-9, "1 mm is gone from the top");
}

TEST("what_is_not_there_is_missing") {
    Worker worker;
    const auto error = [&](const Json& edges) {
        return worker.refused({plate(), roundOf("f", "edge_round", edges, 1)});
    };
    check(error({{"meeting", {"b.top", "lid.top"}}})["kind"] == "missing", "no such name");
    checkHolds(error({{"meeting", {"b.top", "lid.top"}}})["why"], "no face is named lid.top");
    checkHolds(error({{"meeting", {"b.top", "b.bottom"}}})["why"], "do not meet");
    checkHolds(error({{"edgesOf", "lid"}})["why"], "lid has no edges");
}

TEST("the_order_that_works_is_advised") {
    Json recipe = knuckle(0, 1.5);
    recipe.erase(recipe.size() - 1);
    recipe.push_back(roundOf("lug_round", "edge_round", {{"edgesOf", "lug"}}, 0.8));
    Worker worker;
    const Json error = worker.refused(recipe);
    check(error["feature"] == "lug_round", error.dump());
    check(error["advice"] == "put lug_round before lug_root", error.dump());
}
