#include "build.hpp"

#include "combine.hpp"
#include "guards.hpp"
#include "refusal.hpp"
#include "rounds.hpp"
#include "surfaces.hpp"

namespace {

double millisecondsSince(std::chrono::steady_clock::time_point start) {
    return std::chrono::duration<double, std::milli>(std::chrono::steady_clock::now() - start).count();
}

NamedShape buildFeature(const NamedShape& base, const Feature& feature, Deadline& deadline) {
    if (const auto* combination = std::get_if<Combination>(&feature.is))
        return combine(base, *combination, feature.name, deadline);
    return roundEdges(base, std::get<Transition>(feature.is), feature.name);
}

} // namespace

Built build(const Recipe& recipe, bool fullGuards, Shelf& shelf, Deadline& deadline) {
    Built built{nullptr, {}, 0};
    for (std::size_t i = 0; i < recipe.size(); ++i) {
        const Feature& feature = recipe[i];
        const auto start = std::chrono::steady_clock::now();
        deadline.begin("building " + feature.name, double(i) / recipe.size(), double(i + 1) / recipe.size());
        deadline.check(feature.name);

        const std::string before = built.kept ? built.kept->key : "";
        auto kept = shelf.find(before, feature.text);
        const bool fromCache = kept != nullptr;
        if (!fromCache) {
            Kept fresh{Shelf::keyOf(before, feature.text), before, feature.text, {}, {}, 0};
            fresh.solid = buildFeature(built.kept ? built.kept->solid : NamedShape{}, feature, deadline);
            fresh.faces = facesInOrder(fresh.solid);
            fresh.volumeMm3 = volumeOf(fresh.solid.shape);
            kept = shelf.keep(std::move(fresh));
        }
        built.kept = kept;
        built.features.push_back({feature.name, kept->volumeMm3, millisecondsSince(start), fromCache});

        const bool isRound = std::holds_alternative<Transition>(feature.is);
        if (fullGuards && (isRound || i + 1 == recipe.size()) && !kept->meshGuarded) {
            const auto guardStart = std::chrono::steady_clock::now();
            guardMesh(kept->solid.shape, feature.name, deadline);
            kept->meshGuarded = true;
            built.guardMs += millisecondsSince(guardStart);
        }
    }
    return built;
}
