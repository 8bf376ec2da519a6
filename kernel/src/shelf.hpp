#pragma once

#include "named_shape.hpp"
#include "run_on.hpp"

#include <TopoDS_Face.hxx>
#include <cstdint>
#include <list>
#include <memory>
#include <string>
#include <unordered_map>
#include <vector>

/// A solid that is kept, with what it was built from.
struct Kept {
    std::string key;
    std::string before; ///< key of the step before it; empty for the first
    std::string text;   ///< the feature that led from there to here
    NamedShape solid;
    std::vector<TopoDS_Face> faces; ///< in the order in which they are numbered in every answer
    std::vector<RunOn> runOns;      ///< of all rounds so far
    double volumeMm3 = 0;
    mutable bool meshGuarded = false;
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
