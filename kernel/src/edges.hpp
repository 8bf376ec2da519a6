#pragma once

#include "named_shape.hpp"
#include "recipe.hpp"

#include <TopoDS_Edge.hxx>
#include <TopoDS_Face.hxx>

/// How two faces meet along an edge, seen from the material.
enum class Meeting { convex, concave, smooth };

/// An edge with the two faces that meet in it.
struct Edge {
    TopoDS_Edge edge;
    TopoDS_Face first, second; ///< `first` bears the first-named name, where names were given
    Meeting meeting;
    double insideAngle; ///< of the material between the faces at the middle of the edge, radians
    double lengthMm;
};

/// Every edge of a solid in which two different faces meet.
std::vector<Edge> edgesOf(const NamedShape& solid);

/// The edges that a round asks for. Smooth ones, where one face runs into the other, are left out.
std::vector<Edge> chooseEdges(const NamedShape& solid, const EdgeChoice& choice);

/// Whether an edge is one of those that the choice leaves out by name.
bool isExcepted(const Edge& edge, const EdgeChoice& choice, const NameMap& names);

/// Whether an edge lies between a face with the one name and a face with the other.
bool isBetween(const Edge& edge, const std::pair<std::string, std::string>& asked, const NameMap& names);

/// "edge between lug.top and lug.front"
std::string inWords(const Edge& edge, const NameMap& names);
/// "lug.top"; of several names the first in the alphabet
std::string nameOf(const TopoDS_Face& face, const NameMap& names);
