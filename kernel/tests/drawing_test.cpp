// STEP files, views and sections.
#include "check.hpp"
#include "recipes.hpp"

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <fstream>
#include <sstream>
#include <unistd.h>

namespace {

/// A file of its own for each test, gone at its end.
struct TemporaryFile {
    std::string path = "kernel-test-" + std::to_string(getpid()) + ".step";
    ~TemporaryFile() { std::remove(path.c_str()); }
    std::string text() const {
        std::stringstream all;
        all << std::ifstream(path).rdbuf();
        return all.str();
    }
};

} // namespace

TEST("a_hole_comes_back_from_step_as_an_exact_cylinder") {
    Worker worker;
    const Json built = worker.built({join("b", {block("b", {0, 0, 0}, {20, 10, 5})}),
                                     cut("h", {prism(place({6, 5, 0}), circle({0, 0}, 2.1, "h.wall"), -1, 6)})});
    for (const char* schema : {"AP242", "AP214"}) {
        TemporaryFile file;
        const Json request = {
            {"do", "step"}, {"key", built["key"]}, {"path", file.path}, {"schema", schema}, {"partName", "Plate"}};
        check(worker.ask(request)["ok"], "written");
        const std::string first = file.text();
        checkHolds(first,
                   schema == std::string("AP242") ? "AP242_MANAGED_MODEL_BASED_3D_ENGINEERING" : "AUTOMOTIVE_DESIGN");
        checkHolds(first, "Plate");
        worker.ask(request);
        check(file.text() == first, "written twice, it differs");
        Worker reader;
        const Json read = reader.ask({{"do", "readStep"}, {"path", file.path}});
        check(read["ok"], read.dump());
        checkNear(read["volumeMm3"], built["volumeMm3"], 1e-9, "volume");
        int cylinders = 0;
        for (const Json& face : read["faces"])
            if (face["type"] == "cylinder") {
                ++cylinders;
                check(face["radius"] == 2.1, "radius " + face["radius"].dump());
            }
        check(cylinders == 1, "one cylinder");
    }
}

TEST("a_view_of_a_bored_block_has_its_outline_and_hidden_lines") {
    Worker worker;
    const Json key = worker.built({join("b", {block("b", {0, 0, 0}, {20, 10, 5})}),
                                   cut("h", {prism(place({6, 5, 0}), circle({0, 0}, 2, "h.wall"), -1, 6)})})["key"];
    const Json front = worker.ask({{"do", "view"}, {"key", key}, {"toward", {0, 1, 0}}, {"up", {0, 0, 1}}});
    check(front["ok"], front.dump());
    check(front["boxMm"] == Json({{0.0, 0.0}, {20.0, 5.0}}), "box " + front["boxMm"].dump());
    int seen = 0, hidden = 0;
    for (const Json& line : front["lines"]) {
        if (!line["hidden"]) {
            ++seen;
            continue;
        }
        ++hidden;
        const double x = line["points"][0][0];
        check(std::abs(x - 4) < 1e-6 || std::abs(x - 8) < 1e-6, "the bore's sides lie at 4 and 8: " + line.dump());
    }
    check(seen == 4 && hidden == 2, front["lines"].dump());

    const Json top =
        worker.ask({{"do", "view"}, {"key", key}, {"toward", {0, 0, -1}}, {"up", {0, 1, 0}}, {"hidden", false}});
    int round = 0;
    for (const Json& line : top["lines"]) {
        if (line["points"].size() <= 2) continue;
        ++round;
        for (const Json& p : line["points"])
            checkNear(std::hypot(p[0].get<double>() - 6, p[1].get<double>() - 5), 2, 1e-6, "on the circle");
    }
    check(round >= 1, "the bore is a circle from above");
}

TEST("a_symmetric_part_looks_the_same_from_behind_but_for_left_and_right") {
    // Square to this sight its free-form edges lie on each other, so that the eye is turned aside by a hair.
    Worker worker;
    const Json built = worker.built(knuckle());
    const auto from = [&](int toward) {
        const Json view =
            worker.ask({{"do", "view"}, {"key", built["key"]}, {"toward", {0, toward, 0}}, {"up", {0, 0, 1}}});
        check(view["ok"], view.dump());
        return view;
    };
    constexpr double hairMm = 0.005, chordMm = 0.02;
    const Json front = from(1), behind = from(-1);
    for (int axis : {0, 1}) { // x of the page is x of the part, y of the page is its z
        checkNear(front["boxMm"][0][axis], built["boxMm"][0][2 * axis], chordMm, "least on the page");
        checkNear(front["boxMm"][1][axis], built["boxMm"][1][2 * axis], chordMm, "most on the page");
    }
    check(front["lines"].size() == behind["lines"].size(),
          std::to_string(front["lines"].size()) + " lines and " + std::to_string(behind["lines"].size()));
    const auto near = [&](const Json& p, const Json& q) {
        return std::hypot(p[0].get<double>() + q[0].get<double>(), p[1].get<double>() - q[1].get<double>()) < hairMm;
    };
    for (const Json& line : front["lines"]) {
        const Json &first = line["points"].front(), &last = line["points"].back();
        const bool mirrored = std::any_of(behind["lines"].begin(), behind["lines"].end(), [&](const Json& other) {
            const Json &a = other["points"].front(), &b = other["points"].back();
            return line["hidden"] == other["hidden"] &&
                   ((near(first, a) && near(last, b)) || (near(first, b) && near(last, a)));
        });
        check(mirrored, "seen from the front only: " + line.dump());
    }
}

TEST("a_section_gives_closed_loops") {
    Worker worker;
    const Json key = worker.built({join("b", {block("b", {0, 0, 0}, {20, 10, 5})}),
                                   cut("h", {prism(place({6, 5, 0}), circle({0, 0}, 2, "h.wall"), -1, 6)})})["key"];
    const Json answer =
        worker.ask({{"do", "section"}, {"key", key}, {"origin", {0, 0, 2}}, {"normal", {0, 0, 1}}, {"chordMm", 0.001}});
    check(answer["loops"].size() == 2, "a rectangle and a circle");
    double area = 0;
    for (const Json& loop : answer["loops"]) {
        double twice = 0;
        for (std::size_t i = 0; i < loop.size(); ++i) {
            const Json &p = loop[i], &q = loop[(i + 1) % loop.size()];
            checkNear(p[2], 2, 1e-9, "in the plane");
            twice += p[0].get<double>() * q[1].get<double>() - q[0].get<double>() * p[1].get<double>();
        }
        area += std::abs(twice) / 2 * (loop.size() > 4 ? -1 : 1);
    }
    checkNear(area, 200 - pi * 4, 0.02, "area");
}
