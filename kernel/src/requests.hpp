#pragma once

#include "channel.hpp"
#include "deadline.hpp"
#include "mesh.hpp"
#include "shelf.hpp"

/// The mesh made last, watertight: what guarded a solid is what is shown of it.
struct LastMesh {
    std::string key; ///< of the solid
    double chordMm = 0, angleDeg = 0;
    Mesh mesh;

    bool is(const std::string& ofKey, double withinMm, double turnDeg) const {
        return key == ofKey && chordMm == withinMm && angleDeg == turnDeg;
    }
};

/// Answers requests: the one place that knows which words the protocol has.
class Requests {
public:
    explicit Requests(bool allowFaults) : allowFaults_(allowFaults) {}

    /// The answer to a request, without "id" and "ok". Refuses by throwing.
    Reply answer(const Json& request, const Progress& progress);

private:
    Shelf shelf_{96};
    LastMesh lastMesh_;
    bool allowFaults_;
};
