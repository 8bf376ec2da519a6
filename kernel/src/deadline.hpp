#pragma once

#include <Message_ProgressIndicator.hxx>
#include <Message_ProgressRange.hxx>
#include <Message_ProgressScope.hxx>
#include <chrono>
#include <functional>
#include <string>

/// Told while something long runs: how far (0 to 1), and what; `feature` is the one being built, or empty.
using Progress = std::function<void(double fraction, const std::string& doing, const std::string& feature)>;

/// The time allowed for a request. The library asks it now and then whether to stop.
/// Booleans and meshing do; rounds and the merging of faces do not: for those the limit is outside, on the process.
class Deadline {
public:
    Deadline(double milliseconds, Progress progress);

    /// From here on the work is called this and covers this stretch of the whole. Said at once: should the library
    /// crash, the other side knows over which feature.
    void begin(const std::string& doing, double from, double to, const std::string& feature = {});

    bool isOver() const;
    double millisecondsLeft() const;
    /// Refuses with kind "cancelled" once the time is over.
    void check(const std::string& feature) const;

    /// What to hand to a library call.
    Message_ProgressRange range();

private:
    class Indicator;
    std::chrono::steady_clock::time_point end_;
    std::chrono::steady_clock::time_point lastSent_;
    Progress progress_;
    std::string doing_, feature_;
    double from_ = 0, to_ = 1;
    Handle(Message_ProgressIndicator) indicator_;
};
