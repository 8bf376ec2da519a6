#include "shelf.hpp"

#include <cstdio>

namespace {

/// FNV-1a, 64 bits (Fowler, Noll, Vo; IETF draft-eastlake-fnv).
std::uint64_t hash(std::uint64_t seed, const std::string& text) {
    for (const unsigned char c : text)
        seed = (seed ^ c) * 0x100000001b3u;
    return seed;
}

} // namespace

Kept::Kept(std::string before, std::string text, NamedShape solid, std::vector<RunOn> runOns)
    : key(Shelf::keyOf(before, text)), before(std::move(before)), text(std::move(text)), solid(std::move(solid)),
      runOns(std::move(runOns)) {}

const std::vector<PlacedFace>& Kept::placedFaces() const {
    if (faces_.empty()) faces_ = facesInOrder(solid);
    return faces_;
}

std::vector<TopoDS_Face> Kept::faces() const {
    std::vector<TopoDS_Face> faces;
    for (const PlacedFace& placed : placedFaces())
        faces.push_back(placed.face);
    return faces;
}

std::string Shelf::keyOf(const std::string& before, const std::string& text) {
    char key[17];
    const std::uint64_t value = hash(hash(0xcbf29ce484222325u, before + "\n"), text);
    std::snprintf(key, sizeof key, "%016llx", static_cast<unsigned long long>(value));
    return key;
}

std::shared_ptr<const Kept> Shelf::find(const std::string& before, const std::string& text) {
    const auto found = find(keyOf(before, text));
    // Two recipes with one hash must not be taken for each other.
    return found && found->before == before && found->text == text ? found : nullptr;
}

std::shared_ptr<const Kept> Shelf::find(const std::string& key) {
    const auto found = byKey_.find(key);
    if (found == byKey_.end()) return nullptr;
    order_.splice(order_.begin(), order_, found->second);
    return order_.front();
}

std::shared_ptr<const Kept> Shelf::keep(Kept kept) {
    forget(kept.key);
    order_.push_front(std::make_shared<const Kept>(std::move(kept)));
    byKey_[order_.front()->key] = order_.begin();
    const auto result = order_.front();
    while (order_.size() > capacity_) {
        byKey_.erase(order_.back()->key);
        order_.pop_back();
    }
    return result;
}

bool Shelf::forget(const std::string& key) {
    const auto found = byKey_.find(key);
    if (found == byKey_.end()) return false;
    order_.erase(found->second);
    byKey_.erase(found);
    return true;
}
