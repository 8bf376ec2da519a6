#pragma once

#include <cstddef>
#include <nlohmann/json.hpp>
#include <optional>
#include <string>
#include <vector>

using Json = nlohmann::json;
using Answer = nlohmann::ordered_json;
using Bytes = std::vector<char>;

/// An answer and the blocks that follow it.
struct Reply {
    Answer line;
    std::vector<Bytes> blocks;
};

/// The pipe to the one who asks: request lines in, answer lines and binary blocks out.
/// It takes standard output for itself; whatever else is printed to it afterwards goes to standard error.
class Channel {
public:
    static constexpr std::size_t longestLine = std::size_t(64) << 20;

    Channel();
    ~Channel();
    Channel(const Channel&) = delete;
    Channel& operator=(const Channel&) = delete;

    /// The next request line; nothing at the end of input. A line beyond the limit is skipped and refused.
    std::optional<std::string> nextLine();

    void send(const Reply& reply);
    void send(const Answer& line);

private:
    void write(const char* data, std::size_t size);

    int out_;
    std::string pending_;
    std::size_t searched_ = 0;
};
