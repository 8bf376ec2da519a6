#pragma once

#include "named_shape.hpp"
#include "run_on.hpp"
#include "surfaces.hpp"

#include <cstdint>
#include <list>
#include <memory>
#include <string>
#include <unordered_map>
#include <vector>

/// A solid that is kept, with what it was built from.
class Kept {
public:
    Kept(std::string before, std::string text, NamedShape solid, std::vector<RunOn> runOns);

    std::string key;
    std::string before; ///< key of the step before it; empty for the first
    std::string text;   ///< the feature that led from there to here
    NamedShape solid;
    std::vector<RunOn> runOns; ///< of all rounds so far
    mutable bool meshGuarded = false;
    mutable Answer description; ///< what is said of it, once it has been asked for

    /// In the order in which they are numbered in every answer.
    const std::vector<PlacedFace>& placedFaces() const;
    std::vector<TopoDS_Face> faces() const;

private:
    mutable std::vector<PlacedFace> faces_; ///< put in order when first asked for
};

/// Keeps solids by the recipe that led to them; the one not asked for longest goes first.
class Shelf {
public:
    explicit Shelf(std::size_t capacity) : capacity_(capacity) {}

    /// The key of the solid that a feature makes of the one before it.
    static std::string keyOf(const std::string& before, const std::string& text);

    /// What was kept for exactly this step; null when it is not there.
    std::shared_ptr<const Kept> find(const std::string& before, const std::string& text);
    std::shared_ptr<const Kept> find(const std::string& key);
    std::shared_ptr<const Kept> keep(Kept kept);
    bool forget(const std::string& key);

private:
    using Order = std::list<std::shared_ptr<const Kept>>;
    std::size_t capacity_;
    Order order_; ///< asked for last stands first
    std::unordered_map<std::string, Order::iterator> byKey_;
};
