#pragma once

#include "deadline.hpp"
#include "mesh.hpp"
#include "named_shape.hpp"
#include "recipe.hpp"
#include "shelf.hpp"

#include <optional>

/// What building one feature came to.
struct FeatureReport {
    std::string name;
    double volumeMm3, ms;
    bool fromCache;
};

struct Built {
    std::shared_ptr<const Kept> kept;
    std::vector<FeatureReport> features;
    double guardMs;           ///< spent on mesh guards
    std::optional<Mesh> mesh; ///< that guarded the final solid; nothing when it had been guarded before
};

/// Builds a recipe feature by feature. Each step is kept on the shelf, so that the next build starts at the first
/// change.
Built build(const Recipe& recipe, bool fullGuards, Shelf& shelf, Deadline& deadline);
