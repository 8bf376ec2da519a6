#include "channel.hpp"

#include "refusal.hpp"

#include <cerrno>
#include <cstdint>
#include <cstdlib>
#include <unistd.h>

Channel::Channel() : out_(dup(STDOUT_FILENO)) {
    // The library's writers chat on standard output; frames must not meet their chatter.
    if (out_ < 0 || dup2(STDERR_FILENO, STDOUT_FILENO) < 0) std::_Exit(3);
}

Channel::~Channel() {
    close(out_);
}

std::optional<std::string> Channel::nextLine() {
    bool tooLong = false;
    for (;;) {
        const auto end = pending_.find('\n', searched_);
        if (end != std::string::npos) {
            std::string line = pending_.substr(0, end);
            pending_.erase(0, end + 1);
            searched_ = 0;
            if (tooLong || line.size() > longestLine) throw Refusal("request", "the request is longer than 64 MiB");
            return line;
        }
        if (pending_.size() > longestLine) {
            tooLong = true;
            pending_.clear();
        }
        searched_ = pending_.size();
        char buffer[1 << 16];
        const ssize_t got = read(STDIN_FILENO, buffer, sizeof buffer);
        if (got < 0 && errno == EINTR) continue;
        if (got <= 0) return std::nullopt;
        pending_.append(buffer, static_cast<std::size_t>(got));
    }
}

void Channel::send(const Reply& reply) {
    Answer line = reply.line;
    if (!reply.blocks.empty()) {
        auto& sizes = line["binary"] = Answer::array();
        for (const auto& block : reply.blocks)
            sizes.push_back(block.size());
    }
    send(line);
    for (const auto& block : reply.blocks) {
        const std::uint64_t size = block.size();
        write(reinterpret_cast<const char*>(&size), sizeof size);
        write(block.data(), block.size());
    }
}

void Channel::send(const Answer& line) {
    // Replaces bytes that are not UTF-8 (a file name, say) rather than failing on them.
    const std::string text = line.dump(-1, ' ', false, Answer::error_handler_t::replace) + '\n';
    write(text.data(), text.size());
}

void Channel::write(const char* data, std::size_t size) {
    while (size > 0) {
        const ssize_t put = ::write(out_, data, size);
        if (put < 0 && errno == EINTR) continue;
        if (put <= 0) std::_Exit(0); // nobody listens any more
        data += put;
        size -= static_cast<std::size_t>(put);
    }
}
