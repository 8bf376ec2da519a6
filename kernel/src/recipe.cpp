#include "recipe.hpp"

#include "fields.hpp"

#include <cmath>
#include <set>

namespace {

Names namesOf(const Fields& fields) {
    return fields.has("names") ? fields.at("names").texts() : Names{};
}

Piece readPiece(const Fields& fields) {
    Piece piece;
    piece.isArc = fields.has("arc");
    const Fields ends = fields.at(piece.isArc ? "arc" : "line");
    if (ends.size() != 2) ends.refuse("two ends are expected");
    piece.from = ends.at(std::size_t(0)).point2d();
    piece.to = ends.at(1).point2d();
    if (piece.isArc) {
        piece.center = fields.at("center").point2d();
        const std::string turning = fields.at("turning").text();
        if (turning != "left" && turning != "right") fields.at("turning").refuse("left or right is expected");
        piece.turnsLeft = turning == "left";
        const double r0 = piece.center.Distance(piece.from), r1 = piece.center.Distance(piece.to);
        if (std::abs(r0 - r1) > 1e-6) fields.refuse("the ends of the arc are not equally far from its centre");
    }
    piece.names = namesOf(fields);
    return piece;
}

Loop readLoop(const Fields& fields) {
    Loop loop;
    for (std::size_t i = 0; i < fields.size(); ++i)
        loop.push_back(readPiece(fields.at(i)));
    if (loop.size() < 2) fields.refuse("a loop needs two pieces or more");
    for (std::size_t i = 0; i < loop.size(); ++i) {
        const Piece& next = loop[(i + 1) % loop.size()];
        if (loop[i].to.Distance(next.from) > 1e-6)
            fields.at(i).refuse("the next piece does not start where this one ends");
    }
    return loop;
}

Region readRegion(const Fields& fields, int depth = 0) {
    if (depth > 32) fields.refuse("regions are nested too deeply");
    const auto parts = [&](const char* key) {
        std::vector<Region> regions;
        const Fields list = fields.at(key);
        for (std::size_t i = 0; i < list.size(); ++i)
            regions.push_back(readRegion(list.at(i), depth + 1));
        if (regions.empty()) list.refuse("a region is expected");
        return regions;
    };
    if (fields.has("loop")) return {readLoop(fields.at("loop"))};
    if (fields.has("circle")) {
        const Fields circle = fields.at("circle");
        const double radius = circle.at("r").number();
        if (radius <= 0) circle.at("r").refuse("a radius is above zero");
        return {Circle{circle.at("c").point2d(), radius, namesOf(circle)}};
    }
    if (fields.has("joined")) return {Joined{parts("joined")}};
    if (fields.has("takenAway")) return {TakenAway{parts("takenAway")}};
    if (fields.has("overlapped")) return {Overlapped{parts("overlapped")}};
    fields.refuse("a region is a loop, circle, joined, takenAway or overlapped");
}

Place readPlace(const Fields& fields) {
    Place place{fields.at("origin").point(), fields.at("u").vector(), fields.at("v").vector(), fields.at("n").vector()};
    const auto off = [](double value, double wanted) { return std::abs(value - wanted) > 1e-9; };
    if (off(place.u.Magnitude(), 1) || off(place.v.Magnitude(), 1) || off(place.n.Magnitude(), 1) ||
        off(place.u.Dot(place.v), 0) || off(place.v.Dot(place.n), 0) || off(place.n.Dot(place.u), 0))
        fields.refuse("u, v and n are not orthonormal");
    return place;
}

Tool readTool(const Fields& fields) {
    const Place place = readPlace(fields.at("place"));
    if (fields.has("again")) {
        if (place.isLeftHanded()) fields.at("place").refuse("a solid is put elsewhere, never mirrored");
        return {place, Again{fields.at("again").text()}};
    }
    if (fields.has("turned")) {
        Turned turned{readLoop(fields.at("turned"))};
        for (const Piece& piece : turned.loop)
            if (piece.from.X() < -1e-9) fields.at("turned").refuse("a radius is below zero");
        return {place, std::move(turned)};
    }
    Prism prism{readRegion(fields.at("prism")), fields.at("from").number(), fields.at("to").number(), {}, {}};
    if (fields.has("names")) {
        const Fields names = fields.at("names");
        if (names.has("from")) prism.fromNames = names.at("from").texts();
        if (names.has("to")) prism.toNames = names.at("to").texts();
    }
    if (prism.to < prism.from) {
        std::swap(prism.from, prism.to);
        std::swap(prism.fromNames, prism.toNames);
    }
    return {place, std::move(prism)};
}

std::pair<std::string, std::string> readPair(const Fields& fields) {
    const auto names = fields.texts();
    if (names.size() != 2) fields.refuse("two names are expected");
    return {names[0], names[1]};
}

EdgeChoice readEdges(const Fields& fields) {
    EdgeChoice choice;
    if (fields.has("meeting")) {
        choice.meeting = readPair(fields.at("meeting"));
        if (fields.has("near")) choice.near = fields.at("near").point();
        return choice;
    }
    choice.edgesOf = fields.at("edgesOf").text();
    if (fields.has("except")) {
        const Fields except = fields.at("except");
        for (std::size_t i = 0; i < except.size(); ++i)
            choice.except.push_back(readPair(except.at(i)));
    }
    return choice;
}

Transition readRound(const Fields& fields, Transition::Kind kind) {
    Transition round{kind, readEdges(fields.at("edges")), 0};
    const bool isChamfer = kind == Transition::Kind::chamfer;
    round.size = fields.at(isChamfer ? "setback" : "radius").number();
    if (isChamfer) round.angleDeg = fields.numberOr("angle", 45);
    if (round.angleDeg <= 0 || round.angleDeg >= 90) fields.at("angle").refuse("an angle between 0 and 90 is expected");
    return round;
}

} // namespace

const char* Transition::word() const {
    return kind == Kind::edgeRound ? "round" : kind == Kind::fillet ? "fillet" : "chamfer";
}

Recipe readRecipe(const Json& json) {
    const Fields fields(json, "recipe");
    Recipe recipe;
    std::set<std::string> names;
    for (std::size_t i = 0; i < fields.size(); ++i) {
        const Fields item = fields.at(i);
        Feature feature{item.at("name").text(), Combination{}, item.json().dump()};
        if (!names.insert(feature.name).second) item.refuse("the name " + feature.name + " is there twice");
        const std::string does = item.at("does").text();
        if (does == "join" || does == "cut") {
            Combination combination{does == "cut", {}};
            const Fields tools = item.at("tools");
            for (std::size_t k = 0; k < tools.size(); ++k)
                combination.tools.push_back(readTool(tools.at(k)));
            if (combination.tools.empty()) tools.refuse("a tool is expected");
            feature.is = std::move(combination);
        } else if (does == "edge_round") {
            feature.is = readRound(item, Transition::Kind::edgeRound);
        } else if (does == "fillet") {
            feature.is = readRound(item, Transition::Kind::fillet);
        } else if (does == "chamfer") {
            feature.is = readRound(item, Transition::Kind::chamfer);
        } else {
            item.at("does").refuse("join, cut, edge_round, fillet or chamfer is expected");
        }
        recipe.push_back(std::move(feature));
    }
    if (recipe.empty()) fields.refuse("a recipe needs a feature");
    return recipe;
}
