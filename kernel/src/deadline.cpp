#include "deadline.hpp"

#include "refusal.hpp"

using namespace std::chrono_literals;

class Deadline::Indicator : public Message_ProgressIndicator {
public:
    explicit Indicator(Deadline& deadline) : deadline_(deadline) {}
    Standard_Boolean UserBreak() override { return deadline_.isOver(); }

protected:
    void Show(const Message_ProgressScope&, const Standard_Boolean) override {
        const auto now = std::chrono::steady_clock::now();
        if (now - deadline_.lastSent_ < 100ms) return;
        deadline_.lastSent_ = now;
        const double here = deadline_.from_ + GetPosition() * (deadline_.to_ - deadline_.from_);
        deadline_.progress_(here, deadline_.doing_, deadline_.feature_);
    }

private:
    Deadline& deadline_;
};

Deadline::Deadline(double milliseconds, Progress progress)
    : end_(std::chrono::steady_clock::now() + std::chrono::duration_cast<std::chrono::steady_clock::duration>(
                                                  std::chrono::duration<double, std::milli>(milliseconds))),
      lastSent_(std::chrono::steady_clock::now()), progress_(std::move(progress)) {}

void Deadline::begin(const std::string& doing, double from, double to, const std::string& feature) {
    doing_ = doing;
    from_ = from;
    to_ = to;
    feature_ = feature;
    lastSent_ = std::chrono::steady_clock::now();
    progress_(from, doing_, feature_);
}

bool Deadline::isOver() const {
    return std::chrono::steady_clock::now() >= end_;
}

double Deadline::millisecondsLeft() const {
    return std::chrono::duration<double, std::milli>(end_ - std::chrono::steady_clock::now()).count();
}

void Deadline::check(const std::string& feature) const {
    if (isOver()) throw Refusal("cancelled", "the time allowed was over while " + doing_, feature);
}

Message_ProgressRange Deadline::range() {
    indicator_ = new Indicator(*this);
    return indicator_->Start();
}
