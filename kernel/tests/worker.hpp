#pragma once

#include <nlohmann/json.hpp>
#include <string>
#include <sys/types.h>
#include <vector>

using Json = nlohmann::json;

/// A worker process, spoken to as the protocol says.
class Worker {
public:
    static std::string program; ///< set by main

    explicit Worker(std::vector<std::string> options = {});
    ~Worker();
    Worker(const Worker&) = delete;
    Worker& operator=(const Worker&) = delete;

    /// The answer; binary blocks, if any, are in `blocks` afterwards. Throws when the worker ends instead.
    Json ask(Json request);
    /// Sends a recipe; a single feature may stand for a list of one.
    Json build(const Json& recipe) {
        return ask({{"do", "build"}, {"recipe", recipe.is_array() ? recipe : Json::array({recipe})}});
    }
    /// The answer to a build that must succeed.
    Json built(const Json& recipe);
    /// The error of a build that must not.
    Json refused(const Json& recipe);

    void sendLine(const std::string& line);
    std::string readLine();

    Json hello;
    std::vector<std::string> blocks;

    pid_t pid = 0;
    int endStatus(); ///< waits for the end

private:
    std::string read(std::size_t size);
    int in_ = -1, out_ = -1;
    int lastId_ = 0;
    std::string pending_;
};

/// Reads a block as numbers.
template <class T> std::vector<T> numbersIn(const std::string& block) {
    std::vector<T> numbers(block.size() / sizeof(T));
    std::copy(block.begin(), block.end(), reinterpret_cast<char*>(numbers.data()));
    return numbers;
}
