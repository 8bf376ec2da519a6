#include "worker.hpp"

#include <csignal>
#include <cstdint>
#include <cstring>
#include <stdexcept>
#include <sys/wait.h>
#include <unistd.h>

std::string Worker::program;

Worker::Worker(std::vector<std::string> options) {
    int toWorker[2], fromWorker[2];
    if (pipe(toWorker) != 0 || pipe(fromWorker) != 0) throw std::runtime_error("no pipe");
    std::vector<std::string> words{program, "--parent", std::to_string(getpid())};
    words.insert(words.end(), options.begin(), options.end());
    std::vector<char*> arguments;
    for (std::string& word : words)
        arguments.push_back(word.data());
    arguments.push_back(nullptr);
    pid = fork();
    if (pid < 0) throw std::runtime_error("no process");
    if (pid == 0) {
        dup2(toWorker[0], STDIN_FILENO);
        dup2(fromWorker[1], STDOUT_FILENO);
        for (const int end : {toWorker[0], toWorker[1], fromWorker[0], fromWorker[1]})
            close(end);
        execv(arguments[0], arguments.data());
        _exit(127);
    }
    close(toWorker[0]);
    close(fromWorker[1]);
    in_ = toWorker[1];
    out_ = fromWorker[0];
    signal(SIGPIPE, SIG_IGN);
    hello = Json::parse(readLine());
}

Worker::~Worker() {
    close(in_);
    close(out_);
    if (pid > 0) {
        kill(pid, SIGKILL);
        waitpid(pid, nullptr, 0);
    }
}

Json Worker::ask(Json request) {
    request["id"] = ++lastId_;
    sendLine(request.dump());
    for (;;) {
        Json answer = Json::parse(readLine());
        if (answer.contains("progress")) continue;
        if (answer["id"] != lastId_) throw std::runtime_error("the answer has another id: " + answer.dump());
        blocks.clear();
        if (answer.contains("binary"))
            for (const std::size_t size : answer["binary"]) {
                std::uint64_t announced = 0;
                std::memcpy(&announced, read(sizeof announced).data(), sizeof announced);
                if (announced != size) throw std::runtime_error("a block is not as long as the answer says");
                blocks.push_back(read(size));
            }
        return answer;
    }
}

Json Worker::built(const Json& recipe) {
    Json answer = build(recipe);
    if (!answer["ok"]) throw std::runtime_error("not built: " + answer["error"].dump());
    return answer;
}

Json Worker::refused(const Json& recipe) {
    const Json answer = build(recipe);
    if (answer["ok"]) throw std::runtime_error("built, with volume " + answer["volumeMm3"].dump());
    return answer["error"];
}

void Worker::sendLine(const std::string& line) {
    const std::string text = line + "\n";
    for (std::size_t sent = 0; sent < text.size();) {
        const ssize_t put = write(in_, text.data() + sent, text.size() - sent);
        if (put <= 0) throw std::runtime_error("the worker does not listen");
        sent += static_cast<std::size_t>(put);
    }
}

std::string Worker::readLine() {
    for (;;) {
        const auto end = pending_.find('\n');
        if (end != std::string::npos) {
            std::string line = pending_.substr(0, end);
            pending_.erase(0, end + 1);
            return line;
        }
        char buffer[1 << 16];
        const ssize_t got = ::read(out_, buffer, sizeof buffer);
        if (got <= 0) throw std::runtime_error("the worker ended");
        pending_.append(buffer, static_cast<std::size_t>(got));
    }
}

std::string Worker::read(std::size_t size) {
    while (pending_.size() < size) {
        char buffer[1 << 16];
        const ssize_t got = ::read(out_, buffer, sizeof buffer);
        if (got <= 0) throw std::runtime_error("the worker ended");
        pending_.append(buffer, static_cast<std::size_t>(got));
    }
    std::string block = pending_.substr(0, size);
    pending_.erase(0, size);
    return block;
}

int Worker::endStatus() {
    int status = 0;
    waitpid(pid, &status, 0);
    pid = 0;
    return status;
}
