#include "polyline.hpp"

#include <GCPnts_TangentialDeflection.hxx>

std::vector<gp_Pnt> pointsAlong(const BRepAdaptor_Curve& curve, double chordMm) {
    if (curve.GetType() == GeomAbs_Line)
        return {curve.Value(curve.FirstParameter()), curve.Value(curve.LastParameter())};
    constexpr double mostTurn = 0.35; // radians between neighbouring pieces, so that small circles look round
    GCPnts_TangentialDeflection division(curve, mostTurn, chordMm);
    std::vector<gp_Pnt> points;
    for (int i = 1; i <= division.NbPoints(); ++i)
        points.push_back(division.Value(i));
    return points;
}
