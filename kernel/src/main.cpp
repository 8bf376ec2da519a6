#include "channel.hpp"
#include "limits.hpp"
#include "refusal.hpp"
#include "requests.hpp"

#include <Message.hxx>
#include <Message_Messenger.hxx>
#include <Message_PrinterOStream.hxx>
#include <Standard_Failure.hxx>
#include <Standard_OutOfMemory.hxx>
#include <Standard_Version.hxx>
#include <cstring>
#include <iostream>
#include <new>
#include <optional>

namespace {

constexpr int protocol = 1;

struct Options {
    Limits limits;
    int parentPid = 0;
    bool allowFaults = false;
    bool showVersion = false;
};

std::optional<Options> readOptions(int count, char** words) {
    Options options;
    const auto number = [&](int at) { return std::strtoull(words[at], nullptr, 10); };
    for (int i = 1; i < count; ++i) {
        const std::string word = words[i];
        const bool hasValue = i + 1 < count;
        if (word == "--version")
            options.showVersion = true;
        else if (word == "--allow-faults")
            options.allowFaults = true;
        else if (word == "--parent" && hasValue)
            options.parentPid = static_cast<int>(number(++i));
        else if (word == "--memory-mib" && hasValue)
            options.limits.memoryMiB = number(++i);
        else if (word == "--cpu-seconds" && hasValue)
            options.limits.cpuSeconds = number(++i);
        else
            return std::nullopt;
    }
    return options;
}

Answer refusalAnswer(const Refusal& refusal) {
    const auto orNull = [](const std::string& text) { return text.empty() ? Answer() : Answer(text); };
    return {{"ok", false},
            {"error",
             {{"kind", refusal.kind},
              {"feature", orNull(refusal.feature)},
              {"why", refusal.why},
              {"advice", orNull(refusal.advice)}}}};
}

/// Does one request. Every exception there is, ours or the library's, ends here and becomes an answer.
Reply answerLine(const std::string& line, Requests& requests, Channel& channel) {
    Answer id;
    const auto refused = [&](const Refusal& refusal) {
        Reply reply{{{"id", id}}, {}};
        reply.line.update(refusalAnswer(refusal));
        return reply;
    };
    try {
        const Json request = Json::parse(line);
        if (request.is_object() && request.contains("id") && request["id"].is_number_integer())
            id = request["id"].get<std::int64_t>();
        if (id.is_null()) throw Refusal("request", "\"id\" is missing or not a whole number");
        Reply reply =
            requests.answer(request, [&](double fraction, const std::string& doing, const std::string& feature) {
                Answer progress{{"id", id}, {"progress", fraction}, {"doing", doing}};
                if (!feature.empty()) progress["feature"] = feature;
                channel.send(progress);
            });
        Answer whole{{"id", id}, {"ok", true}};
        whole.update(reply.line);
        reply.line = std::move(whole);
        return reply;
    } catch (const Refusal& refusal) {
        return refused(refusal);
    } catch (const Json::exception& e) {
        return refused(Refusal("request", e.what()));
    } catch (const std::bad_alloc&) {
        return refused(Refusal("memory", "the memory allowed was not enough"));
    } catch (const Standard_OutOfMemory&) {
        return refused(Refusal("memory", "the memory allowed was not enough"));
    } catch (const Standard_Failure& failure) {
        return refused(Refusal("failed", std::string("the geometry library failed: ") + failure.DynamicType()->Name() +
                                             " " + failure.GetMessageString()));
    } catch (const std::exception& e) {
        return refused(Refusal("failed", e.what()));
    }
}

void sendLibraryMessagesToStandardError() {
    const Handle(Message_Messenger)& messenger = Message::DefaultMessenger();
    messenger->ChangePrinters().Clear();
    messenger->AddPrinter(new Message_PrinterOStream("cerr", false, Message_Warning));
}

} // namespace

int main(int count, char** words) {
    const auto options = readOptions(count, words);
    if (!options) {
        std::cerr << "usage: sparewright-kernel --parent PID [--memory-mib N] [--cpu-seconds N] [--allow-faults] | "
                     "--version\n";
        return 2;
    }
    if (options->showVersion) {
        std::cout << "sparewright-kernel " SPAREWRIGHT_KERNEL_VERSION ", protocol " << protocol
                  << ", Open CASCADE " OCC_VERSION_COMPLETE "\n";
        return 0;
    }
    if (options->parentPid != 0) dieWithParent(options->parentPid);
    setLimits(options->limits);
    Channel channel;
    sendLibraryMessagesToStandardError();
    channel.send(Answer{{"hello", "sparewright-kernel"}, {"protocol", protocol}, {"occt", OCC_VERSION_COMPLETE}});

    Requests requests(options->allowFaults);
    for (;;) {
        std::optional<std::string> line;
        try {
            line = channel.nextLine();
        } catch (const Refusal& tooLong) {
            Answer answer{{"id", nullptr}};
            answer.update(refusalAnswer(tooLong));
            channel.send(answer);
            continue;
        }
        if (!line) return 0;
        if (line->find_first_not_of(" \t\r") == std::string::npos) continue;
        channel.send(answerLine(*line, requests, channel));
    }
}
