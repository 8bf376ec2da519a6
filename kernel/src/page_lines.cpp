#include "page_lines.hpp"

#include <algorithm>
#include <cmath>
#include <gp_Vec2d.hxx>
#include <tuple>

namespace {

double lengthOf(const ViewLine& line) {
    double length = 0;
    for (std::size_t i = 1; i < line.points.size(); ++i)
        length += line.points[i].Distance(line.points[i - 1]);
    return length;
}

double distance(const gp_Pnt2d& p, const gp_Pnt2d& a, const gp_Pnt2d& b) {
    const gp_Vec2d along(a, b), to(a, p);
    const double square = along.SquareMagnitude();
    const double t = square > 0 ? std::clamp(to.Dot(along) / square, 0.0, 1.0) : 0;
    return p.Distance(a.Translated(along * t));
}

/// What is already drawn, to be asked whether it covers something else.
class Drawn {
public:
    explicit Drawn(double closeMm) : close_(closeMm) {}

    void add(const ViewLine& line) {
        for (std::size_t i = 1; i < line.points.size(); ++i)
            strokes_.push_back({line.points[i - 1], line.points[i]});
    }

    /// Whether every place along the line lies on something drawn.
    bool covers(const ViewLine& line) const {
        constexpr double stepMm = 0.5;
        for (std::size_t i = 1; i < line.points.size(); ++i) {
            const gp_Pnt2d &a = line.points[i - 1], &b = line.points[i];
            const int steps = std::max(2, int(std::ceil(a.Distance(b) / stepMm)));
            for (int k = 0; k <= steps; ++k) {
                const double t = double(k) / steps;
                if (!isOn(gp_Pnt2d(a.X() + t * (b.X() - a.X()), a.Y() + t * (b.Y() - a.Y())))) return false;
            }
        }
        return true;
    }

private:
    struct Stroke {
        gp_Pnt2d a, b;
    };

    bool isOn(const gp_Pnt2d& p) const {
        return std::any_of(strokes_.begin(), strokes_.end(), [&](const Stroke& s) {
            return p.X() > std::min(s.a.X(), s.b.X()) - close_ && p.X() < std::max(s.a.X(), s.b.X()) + close_ &&
                   p.Y() > std::min(s.a.Y(), s.b.Y()) - close_ && p.Y() < std::max(s.a.Y(), s.b.Y()) + close_ &&
                   distance(p, s.a, s.b) < close_;
        });
    }

    double close_;
    std::vector<Stroke> strokes_;
};

/// What is drawn first stays: visible before hidden, edges and outlines before smooth lines, long before short.
int rank(const ViewLine& line) {
    return (line.hidden ? 2 : 0) + (line.kind == "smooth" ? 1 : 0);
}

auto placeOf(const ViewLine& line) {
    std::vector<std::pair<double, double>> rounded;
    for (const gp_Pnt2d& p : line.points)
        rounded.emplace_back(std::round(p.X() * 1e6) / 1e6, std::round(p.Y() * 1e6) / 1e6);
    return rounded;
}

void sortLines(std::vector<ViewLine>& lines) {
    for (ViewLine& line : lines) {
        const auto place = placeOf(line);
        if (std::vector(place.rbegin(), place.rend()) < place) std::reverse(line.points.begin(), line.points.end());
    }
    std::stable_sort(lines.begin(), lines.end(), [](const ViewLine& a, const ViewLine& b) {
        return std::tuple(a.hidden, a.kind, placeOf(a)) < std::tuple(b.hidden, b.kind, placeOf(b));
    });
}

std::vector<ViewLine> withoutCovered(std::vector<ViewLine> lines, double closeMm) {
    std::stable_sort(lines.begin(), lines.end(), [](const ViewLine& a, const ViewLine& b) {
        return std::tuple(rank(a), -lengthOf(a)) < std::tuple(rank(b), -lengthOf(b));
    });
    Drawn drawn(closeMm);
    std::vector<ViewLine> left;
    for (ViewLine& line : lines) {
        if (lengthOf(line) < closeMm || drawn.covers(line)) continue;
        drawn.add(line);
        left.push_back(std::move(line));
    }
    return left;
}

/// Whether `next` goes on where `line` ends, in the same direction.
bool continues(const ViewLine& line, const ViewLine& next, double closeMm) {
    constexpr double mostTurn = 0.2; // radians
    if (line.kind != next.kind || line.hidden != next.hidden) return false;
    const auto &a = line.points, &b = next.points;
    if (a.back().Distance(b.front()) > closeMm) return false;
    return std::abs(gp_Vec2d(a[a.size() - 2], a.back()).Angle(gp_Vec2d(b[0], b[1]))) < mostTurn;
}

std::vector<ViewLine> strungTogether(std::vector<ViewLine> lines, double closeMm) {
    for (std::size_t i = 0; i < lines.size(); ++i)
        for (std::size_t k = i + 1; k < lines.size();) {
            ViewLine &a = lines[i], &b = lines[k];
            bool joins = false;
            for (int turn = 0; turn < 4 && !joins; ++turn) {
                std::reverse((turn % 2 ? a : b).points.begin(), (turn % 2 ? a : b).points.end()); // all four ways round
                joins = continues(a, b, closeMm);
            }
            if (!joins) {
                ++k;
                continue;
            }
            a.points.insert(a.points.end(), b.points.begin() + 1, b.points.end());
            lines.erase(lines.begin() + static_cast<std::ptrdiff_t>(k));
            k = i + 1; // the longer line may go on with one that was passed over
        }
    return lines;
}

} // namespace

std::vector<ViewLine> tidied(std::vector<ViewLine> lines, double closeMm) {
    sortLines(lines);
    lines = withoutCovered(std::move(lines), closeMm);
    sortLines(lines);
    lines = strungTogether(std::move(lines), closeMm);
    sortLines(lines);
    return lines;
}
