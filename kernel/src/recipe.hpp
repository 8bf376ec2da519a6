#pragma once

#include "channel.hpp"
#include "named_shape.hpp"

#include <array>
#include <gp_Pnt.hxx>
#include <gp_Pnt2d.hxx>
#include <gp_Vec.hxx>
#include <optional>
#include <string>
#include <utility>
#include <variant>
#include <vector>

using Names = std::vector<std::string>;

/// One straight or round piece of a loop, in the two coordinates of its place.
struct Piece {
    gp_Pnt2d from, to;
    bool isArc = false;
    gp_Pnt2d center;
    bool turnsLeft = true;
    Names names;
};

struct Circle {
    gp_Pnt2d center;
    double radius;
    Names names;
};

struct Region;
using Loop = std::vector<Piece>;
struct Joined {
    std::vector<Region> regions;
};
struct TakenAway {
    std::vector<Region> regions;
};
struct Overlapped {
    std::vector<Region> regions;
};

/// A bounded part of a plane.
struct Region {
    std::variant<Loop, Circle, Joined, TakenAway, Overlapped> is;
};

/// Where a tool stands: an orthonormal frame, which may be left-handed (a mirror image).
struct Place {
    gp_Pnt origin;
    gp_Vec u, v, n;
    bool isLeftHanded() const { return u.Crossed(v).Dot(n) < 0; }
};

struct Prism {
    Region region;
    double from, to;
    Names fromNames, toNames;
};

struct Turned {
    Loop loop; ///< (radius, height along n)
};

/// A solid that was built before, put where the place says.
struct Again {
    std::string key;
    NamedShape solid = {}; ///< once the key has been looked up
};

struct Tool {
    Place place;
    std::variant<Prism, Turned, Again> is;
};

/// The edges that a round asks for.
struct EdgeChoice {
    std::optional<std::pair<std::string, std::string>> meeting;
    std::optional<gp_Pnt> near;
    std::string edgesOf;
    std::vector<std::pair<std::string, std::string>> except;
};

struct Combination {
    bool isCut;
    std::vector<Tool> tools;
};

/// A round, fillet or chamfer (a "transition feature" of ISO 10303-224).
struct Transition {
    enum class Kind { edgeRound, fillet, chamfer } kind;
    EdgeChoice edges;
    double size;              ///< radius, or setback of a chamfer, mm
    double angleDeg = 45;     ///< chamfer only, from the first-named face
    const char* word() const; ///< for sentences: "round", "fillet", "chamfer"
};

struct Feature {
    std::string name;
    std::variant<Combination, Transition> is;
    std::string text; ///< its own JSON, canonical: what the built solid depends on
};

using Recipe = std::vector<Feature>;

/// Reads a recipe; a malformed one is refused with the place in it.
Recipe readRecipe(const Json& json);
