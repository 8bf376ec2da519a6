#include "recipes.hpp"

namespace {

Json names(const std::string& name) {
    return name.empty() ? Json::array() : Json::array({name});
}

} // namespace

Json place(P3 origin, P3 u, P3 v, P3 n) {
    return {{"origin", origin}, {"u", u}, {"v", v}, {"n", n}};
}

Json line(P2 from, P2 to, const std::string& name) {
    return {{"line", Json::array({from, to})}, {"names", names(name)}};
}

Json arc(P2 from, P2 to, P2 center, const std::string& turning, const std::string& name) {
    return {{"arc", Json::array({from, to})}, {"center", center}, {"turning", turning}, {"names", names(name)}};
}

Json circle(P2 center, double radius, const std::string& name) {
    return {{"circle", {{"c", center}, {"r", radius}, {"names", names(name)}}}};
}

Json prism(const Json& place, const Json& region, double from, double to, const std::string& fromName,
           const std::string& toName) {
    return {{"place", place},
            {"prism", region},
            {"from", from},
            {"to", to},
            {"names", {{"from", names(fromName)}, {"to", names(toName)}}}};
}

Json block(const std::string& name, P3 corner, P3 size) {
    const double x = size[0], y = size[1];
    const Json loop = {line({0, 0}, {x, 0}, name + ".front"), line({x, 0}, {x, y}, name + ".right"),
                       line({x, y}, {0, y}, name + ".back"), line({0, y}, {0, 0}, name + ".left")};
    return prism(place(corner), {{"loop", loop}}, 0, size[2], name + ".bottom", name + ".top");
}

Json disc(const std::string& name, P3 bottom, double radius, double height) {
    return prism(place(bottom), circle({0, 0}, radius, name + ".side"), 0, height, name + ".bottom", name + ".top");
}

Json join(const std::string& name, std::vector<Json> tools) {
    return {{"name", name}, {"does", "join"}, {"tools", tools}};
}

Json cut(const std::string& name, std::vector<Json> tools) {
    return {{"name", name}, {"does", "cut"}, {"tools", tools}};
}

Json roundOf(const std::string& name, const std::string& does, const Json& edges, double radius) {
    return {{"name", name}, {"does", does}, {"edges", edges}, {"radius", radius}};
}

Json plate() {
    return join("b", {block("b", {0, 0, 0}, {20, 10, 5})});
}

Json knuckle(double edgeRadius, double filletRadius) {
    const double footT = 5, footW = 20, pitch = 34, socketR = 8.5, socketLen = 48, top = footT + socketLen;
    const double lugReach = 28, lugT = 6, lugW = 20, pinZ = top - lugW / 2, r = footW / 2, h = pitch / 2;
    const Json belt = {line({r, -h}, {r, h}, "foot.rim"), arc({r, h}, {-r, h}, {0, h}, "left", "foot.rim"),
                       line({-r, h}, {-r, -h}, "foot.rim"), arc({-r, -h}, {r, -h}, {0, -h}, "left", "foot.rim")};
    const Json halfDisc = {arc({0, -lugW / 2}, {0, lugW / 2}, {0, 0}, "left", "lug.right"),
                           line({0, lugW / 2}, {0, -lugW / 2})};
    // Its n points to the front, so that u (right) and v (up) are seen from there.
    const Json acrossLug = place({lugReach, 0, pinZ}, {1, 0, 0}, {0, 0, 1}, {0, -1, 0});
    const auto countersunk = [&](const std::string& name, double y) {
        const Json loop = {line({0, 1}, {5.5, 1}), line({5.5, 1}, {2.25, -2.25}, name + ".countersink"),
                           line({2.25, -2.25}, {2.25, -6}, name + ".wall"), line({2.25, -6}, {0, -6}),
                           line({0, -6}, {0, 1})};
        return cut(name, {Json{{"place", place({0, y, footT})}, {"turned", loop}}});
    };
    Json recipe = {
        join("foot", {prism(place(), {{"loop", belt}}, 0, footT, "foot.bottom", "foot.top")}),
        join("socket", {disc("socket", {0, 0, footT}, socketR, socketLen)}),
        join("lug", {block("lug", {0, -lugT / 2, top - lugW}, {lugReach, lugT, lugW})}),
        join("lug_end", {prism(acrossLug, {{"loop", halfDisc}}, -lugT / 2, lugT / 2, "lug.back", "lug.front")})};
    if (edgeRadius > 0) recipe.push_back(roundOf("lug_round", "edge_round", {{"edgesOf", "lug"}}, edgeRadius));
    recipe.push_back(cut("bore", {prism(place({0, 0, top}, {1, 0, 0}, {0, -1, 0}, {0, 0, -1}),
                                        circle({0, 0}, 6.1, "bore.wall"), -1, 36, "", "bore.end")}));
    recipe.push_back(cut("pin_hole", {prism(acrossLug, circle({0, 0}, 2.5, "pin_hole.wall"), -4, 4)}));
    recipe.push_back(countersunk("screw_hole#1", -h));
    recipe.push_back(countersunk("screw_hole#2", h));
    if (filletRadius > 0) {
        recipe.push_back(roundOf("lug_root", "fillet", {{"meeting", {"lug.front", "socket.side"}}}, filletRadius));
        recipe.push_back(
            roundOf("lug_root_behind", "fillet", {{"meeting", {"lug.back", "socket.side"}}}, filletRadius));
    }
    return recipe;
}
