#pragma once

#include "worker.hpp"

#include <array>
#include <numbers>

using std::numbers::pi;

using P2 = std::array<double, 2>;
using P3 = std::array<double, 3>;

Json place(P3 origin = {0, 0, 0}, P3 u = {1, 0, 0}, P3 v = {0, 1, 0}, P3 n = {0, 0, 1});
Json line(P2 from, P2 to, const std::string& name = "");
Json arc(P2 from, P2 to, P2 center, const std::string& turning, const std::string& name = "");
Json circle(P2 center, double radius, const std::string& name = "");
Json prism(const Json& place, const Json& region, double from, double to, const std::string& fromName = "",
           const std::string& toName = "");

/// NAME.left .right .front .back .bottom .top
Json block(const std::string& name, P3 corner, P3 size);
/// NAME.side .bottom .top, upright
Json disc(const std::string& name, P3 bottom, double radius, double height);

Json join(const std::string& name, std::vector<Json> tools);
Json cut(const std::string& name, std::vector<Json> tools);
Json roundOf(const std::string& name, const std::string& does, const Json& edges, double radius);

/// A block b of 20 × 10 × 5.
Json plate();

/// A part of our own invention with a belt plate, a boss, a lug with a rounded end, a bore, a cross hole, two
/// countersunk holes, edge rounds, and fillets where the lug meets the boss. Rounds last where they are given.
Json knuckle(double edgeRadius = 0.8, double filletRadius = 1.5);
