// Frames, limits and faults.
#include "check.hpp"
#include "recipes.hpp"

#include <csignal>
#include <sys/wait.h>

TEST("the_worker_greets_and_answers_nonsense") {
    Worker worker;
    check(worker.hello["hello"] == "sparewright-kernel" && worker.hello["protocol"] == 1, worker.hello.dump());
    worker.sendLine("this is not JSON");
    check(Json::parse(worker.readLine())["error"]["kind"] == "request", "nonsense is answered");
    worker.sendLine(R"({"do": "build"})");
    check(Json::parse(worker.readLine())["error"]["kind"] == "request", "no id");
    check(worker.ask({{"do", "knit"}})["error"]["kind"] == "request", "no such request");
    check(worker.ask({{"do", "fault"}, {"how", "crash"}})["error"]["kind"] == "request", "no faults unless allowed");
    check(worker.ask({{"do", "mesh"}, {"key", "0"}})["error"]["kind"] == "missing", "no such solid");
    worker.built({join("b", {block("b", {0, 0, 0}, {1, 1, 1})})});
}

TEST("a_line_beyond_64_MiB_is_refused_and_the_next_one_works") {
    Worker worker;
    worker.sendLine(std::string((std::size_t(64) << 20) + 10, ' '));
    check(Json::parse(worker.readLine())["error"]["kind"] == "request", "too long");
    worker.built({join("b", {block("b", {0, 0, 0}, {1, 1, 1})})});
}

TEST("malformed_recipes_are_refused_with_the_place") {
    Worker worker;
    Json recipe = {join("b", {block("b", {0, 0, 0}, {1, 1, 1})})};
    recipe[0]["tools"][0]["prism"]["loop"][2]["line"][0] = {5, 5};
    const Json gap = worker.refused(recipe);
    check(gap["kind"] == "request", gap.dump());
    checkHolds(gap["why"], "recipe[0].tools[0].prism.loop[1]");
    recipe = {join("b", {prism(place({0, 0, 0}, {2, 0, 0}), circle({0, 0}, 1), 0, 1)})};
    checkHolds(worker.refused(recipe)["why"], "orthonormal");
    recipe = {join("b", {prism(place(), circle({0, 0}, 1), 0, 1)}),
              join("b", {prism(place(), circle({0, 0}, 1), 0, 1)})};
    checkHolds(worker.refused(recipe)["why"], "twice");
}

TEST("forgotten_solids_are_missing") {
    Worker worker;
    const Json key = worker.built({join("b", {block("b", {0, 0, 0}, {1, 1, 1})})})["key"];
    check(worker.ask({{"do", "forget"}, {"key", key}})["ok"], "forgets");
    check(worker.ask({{"do", "mesh"}, {"key", key}})["error"]["kind"] == "missing", "is gone");
}

TEST("too_little_time_is_cancelled_and_the_next_request_works") {
    Worker worker;
    const Json answer = worker.ask({{"do", "build"}, {"recipe", knuckle()}, {"deadlineMs", 5}});
    check(answer["error"]["kind"] == "cancelled", answer.dump());
    worker.built({join("b", {block("b", {0, 0, 0}, {1, 1, 1})})});
}

TEST("too_little_memory_is_an_answer_not_an_end") {
    Worker worker({"--allow-faults", "--memory-mib", "600"});
    check(worker.ask({{"do", "fault"}, {"how", "memory"}})["error"]["kind"] == "memory", "memory");
    worker.built({join("b", {block("b", {0, 0, 0}, {1, 1, 1})})});
}

TEST("a_crash_ends_the_worker_by_its_signal") {
    Worker worker({"--allow-faults"});
    worker.sendLine(R"({"id": 1, "do": "fault", "how": "crash"})");
    const int status = worker.endStatus();
    check(WIFSIGNALED(status) && WTERMSIG(status) == SIGSEGV, "status " + std::to_string(status));
}

TEST("the_processor_limit_ends_the_worker") {
    Worker worker({"--cpu-seconds", "1"});
    Json recipe = {join("b", {block("b", {0, 0, 0}, {200, 200, 5})})};
    std::vector<Json> holes;
    for (int i = 0; i < 400; ++i)
        holes.push_back(prism(place({5.0 + 9.5 * (i % 20), 5.0 + 9.5 * (i / 20), 0}), circle({0, 0}, 3), -1, 6));
    recipe.push_back(cut("h", holes));
    recipe.push_back(roundOf("r", "edge_round", {{"edgesOf", "b"}}, 0.5));
    worker.sendLine(Json{{"id", 1}, {"do", "build"}, {"recipe", recipe}}.dump());
    const int status = worker.endStatus();
    check(WIFSIGNALED(status) && WTERMSIG(status) == SIGXCPU, "status " + std::to_string(status));
}
