#include "build.hpp"

#include "combine.hpp"
#include "guards.hpp"
#include "refusal.hpp"
#include "rounds.hpp"
#include "surfaces.hpp"
#include "trial.hpp"

#include <algorithm>

namespace {

double millisecondsSince(std::chrono::steady_clock::time_point start) {
    return std::chrono::duration<double, std::milli>(std::chrono::steady_clock::now() - start).count();
}

/// What a feature makes of the solid before it.
Rounded buildFeature(const Rounded& before, const Feature& feature, Deadline& deadline) {
    if (const auto* combination = std::get_if<Combination>(&feature.is))
        return {combine(before.solid, *combination, feature.name, deadline), before.runOns};
    Rounded rounded = roundEdges(before.solid, std::get<Transition>(feature.is), before.runOns, feature.name);
    rounded.runOns.insert(rounded.runOns.begin(), before.runOns.begin(), before.runOns.end());
    return rounded;
}

/// Tries the round that failed in another place of the list, on a copy, so as to be able to say which order works.
class OtherOrder {
public:
    OtherOrder(const Recipe& recipe, std::size_t failed, const std::vector<Rounded>& before, Deadline& deadline)
        : recipe_(recipe), failed_(failed), before_(before), deadline_(deadline) {}

    /// "put lug_round before lug_root"; empty when no other order was found to work.
    std::string advice() const {
        constexpr int laterRounds = 2;
        int tried = 0;
        for (std::size_t later = failed_ + 1; later < recipe_.size() && tried < laterRounds; ++later) {
            if (!std::holds_alternative<Transition>(recipe_[later].is)) continue;
            ++tried;
            if (works(before_[failed_], {later, failed_})) return put(later, failed_);
        }
        constexpr std::size_t earlierFeatures = 3;
        for (std::size_t back = 1; back <= std::min(failed_, earlierFeatures); ++back) {
            std::vector<std::size_t> order{failed_};
            for (std::size_t i = failed_ - back; i < failed_; ++i)
                order.push_back(i);
            if (works(before_[failed_ - back], order)) return put(failed_, failed_ - back);
        }
        return {};
    }

private:
    std::string put(std::size_t first, std::size_t second) const {
        return "put " + recipe_[first].name + " before " + recipe_[second].name;
    }

    bool works(const Rounded& start, const std::vector<std::size_t>& order) const {
        constexpr double mostMs = 3000;
        const double limitMs = std::min(deadline_.millisecondsLeft(), mostMs);
        if (limitMs <= 0) return false;
        const auto attempt = [&] {
            Deadline silent(limitMs, [](double, const std::string&, const std::string&) {});
            Rounded solid = start;
            for (const std::size_t i : order)
                solid = buildFeature(solid, recipe_[i], silent);
            const Kept made("", "", solid.solid, {});
            guardMesh(made.solid, made.faces(), recipe_[failed_].name, silent);
        };
        return worksInACopy(attempt, limitMs);
    }

    const Recipe& recipe_;
    std::size_t failed_;
    const std::vector<Rounded>& before_;
    Deadline& deadline_;
};

} // namespace

Built build(const Recipe& recipe, bool fullGuards, Shelf& shelf, Deadline& deadline) {
    Built built{nullptr, {}, 0, std::nullopt};
    std::vector<Rounded> before{Rounded{}};
    std::vector<std::shared_ptr<const Kept>> steps;
    const auto isRound = [&](std::size_t i) { return std::holds_alternative<Transition>(recipe[i].is); };
    const auto step = [&](std::size_t i) {
        const Feature& feature = recipe[i];
        const auto start = std::chrono::steady_clock::now();
        deadline.begin("building " + feature.name, double(i) / recipe.size(), double(i + 1) / recipe.size(),
                       feature.name);
        deadline.check(feature.name);

        const std::string key = built.kept ? built.kept->key : "";
        auto kept = shelf.find(key, feature.text);
        const bool fromCache = kept != nullptr;
        if (!fromCache) {
            Rounded made = buildFeature(before[i], feature, deadline);
            kept = shelf.keep(Kept(key, feature.text, std::move(made.solid), std::move(made.runOns)));
            // A round that only got its second name has nothing new to guard.
            kept->meshGuarded =
                built.kept && built.kept->meshGuarded && kept->solid.shape.IsSame(before[i].solid.shape);
        }
        built.features.push_back({feature.name, kept->solid.volumeMm3(), millisecondsSince(start), fromCache});
        built.kept = kept;
        steps.push_back(kept);
        before.push_back({kept->solid, kept->runOns});
    };
    const auto guard = [&](std::size_t i) {
        std::optional<Mesh> mesh;
        if (!fullGuards || steps[i]->meshGuarded) return mesh;
        const auto start = std::chrono::steady_clock::now();
        mesh = guardMesh(steps[i]->solid, steps[i]->faces(), recipe[i].name, deadline);
        steps[i]->meshGuarded = true;
        built.guardMs += millisecondsSince(start);
        return mesh;
    };
    // Only the final solid is meshed while all goes well. When it does not, the fault may lie in an earlier round that
    // looked well until then: the first one that does not stand the guard is named.
    const auto firstFault = [&](std::size_t failed, const Refusal& refusal) {
        for (std::size_t i = 0; i < std::min(failed, steps.size()); ++i)
            try {
                if (isRound(i)) guard(i);
            } catch (const Refusal& earlier) {
                return std::pair(i, earlier);
            }
        return std::pair(failed, refusal);
    };
    try {
        for (std::size_t i = 0; i < recipe.size(); ++i)
            step(i);
        built.mesh = guard(recipe.size() - 1);
    } catch (const Refusal& found) {
        if (found.kind == "cancelled") throw;
        auto [failed, refusal] = firstFault(std::min(steps.size(), recipe.size() - 1), found);
        const bool isOfTheLibrary = refusal.kind == "failed" || refusal.kind == "wrong";
        if (isRound(failed) && ((isOfTheLibrary && refusal.advice.empty()) || refusal.mayDependOnOrder)) {
            const std::string order = OtherOrder(recipe, failed, before, deadline).advice();
            if (!order.empty()) refusal.advice += (refusal.advice.empty() ? "" : ", or ") + order;
        }
        throw refusal;
    }
    return built;
}
