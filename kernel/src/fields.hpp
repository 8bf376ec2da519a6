#pragma once

#include "channel.hpp"

#include <gp_Pnt.hxx>
#include <gp_Pnt2d.hxx>
#include <gp_Vec.hxx>
#include <string>
#include <vector>

/// Reads fields of a request; whatever is missing or of the wrong kind is refused with its path.
class Fields {
public:
    Fields(const Json& json, std::string path) : json_(json), path_(std::move(path)) {}

    bool has(const char* key) const;
    Fields at(const char* key) const;
    Fields at(std::size_t index) const;
    std::size_t size() const; ///< of an array

    double number() const; ///< finite
    bool boolean() const;
    std::string text() const;
    std::vector<std::string> texts() const;
    gp_Pnt2d point2d() const;
    gp_Pnt point() const;
    gp_Vec vector() const;
    gp_Vec direction() const; ///< made unit; a zero vector is refused

    double numberOr(const char* key, double otherwise) const { return has(key) ? at(key).number() : otherwise; }
    bool booleanOr(const char* key, bool otherwise) const { return has(key) ? at(key).boolean() : otherwise; }
    std::string textOr(const char* key, const char* otherwise) const { return has(key) ? at(key).text() : otherwise; }

    const Json& json() const { return json_; }
    [[noreturn]] void refuse(const std::string& why) const;

private:
    const Json& json_;
    std::string path_;
};
