#include "fields.hpp"

#include "refusal.hpp"

#include <cmath>

bool Fields::has(const char* key) const {
    return json_.is_object() && json_.contains(key) && !json_.at(key).is_null();
}

Fields Fields::at(const char* key) const {
    if (!json_.is_object()) refuse("an object is expected");
    const auto found = json_.find(key);
    if (found == json_.end()) refuse(std::string("\"") + key + "\" is missing");
    return {*found, path_ + "." + key};
}

Fields Fields::at(std::size_t index) const {
    if (index >= size()) refuse("has too few items");
    return {json_[index], path_ + "[" + std::to_string(index) + "]"};
}

std::size_t Fields::size() const {
    if (!json_.is_array()) refuse("a list is expected");
    return json_.size();
}

double Fields::number() const {
    if (!json_.is_number() || !std::isfinite(json_.get<double>())) refuse("a number is expected");
    return json_.get<double>();
}

bool Fields::boolean() const {
    if (!json_.is_boolean()) refuse("true or false is expected");
    return json_.get<bool>();
}

std::string Fields::text() const {
    if (!json_.is_string()) refuse("a text is expected");
    return json_.get<std::string>();
}

std::vector<std::string> Fields::texts() const {
    std::vector<std::string> all;
    for (std::size_t i = 0; i < size(); ++i)
        all.push_back(at(i).text());
    return all;
}

gp_Pnt2d Fields::point2d() const {
    if (size() != 2) refuse("two numbers are expected");
    return {at(std::size_t(0)).number(), at(1).number()};
}

gp_Pnt Fields::point() const {
    if (size() != 3) refuse("three numbers are expected");
    return {at(std::size_t(0)).number(), at(1).number(), at(2).number()};
}

gp_Vec Fields::vector() const {
    return gp_Vec(point().XYZ());
}

gp_Vec Fields::direction() const {
    const gp_Vec v = vector();
    if (v.Magnitude() < 1e-9) refuse("a direction may not be zero");
    return v.Normalized();
}

void Fields::refuse(const std::string& why) const {
    throw Refusal("request", path_ + ": " + why);
}
