#pragma once

#include <TopoDS_Shape.hxx>
#include <string>

/// What stands in the head of a STEP file (ISO 10303-21).
struct StepHead {
    std::string schema; ///< "AP242" or "AP214"
    std::string partName;
    std::string writtenAt; ///< ISO 8601; empty leaves it out, so that the same solid gives the same bytes
};

/// Writes a solid with its exact surfaces, in mm, straight to `path`.
void writeStep(const TopoDS_Shape& solid, const std::string& path, const StepHead& head);

/// Reads what a STEP file holds, in mm.
TopoDS_Shape readStep(const std::string& path);
