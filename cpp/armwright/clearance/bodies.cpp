#include "armwright/clearance/bodies.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "armwright/model/compile.hpp"

namespace armwright {

namespace {

bool on_chain(const Body& body) {
  return body.part != Body::Part::tool && body.part != Body::Part::load && body.part != Body::Part::fixture;
}

// Bodies of one joint frame have one place. A frame without shapes is passed over: its neighbours meet each other.
void number_places(std::vector<Body>& bodies) {
  const int frames = 1 + std::max_element(bodies.begin(), bodies.end(), [](const Body& a, const Body& b) { return a.frame < b.frame; })->frame;
  int place = 0;
  for (int frame = -1; frame < frames; ++frame) {
    bool shaped = false;
    for (Body& body : bodies) {
      if (!on_chain(body) || body.frame != frame) continue;
      body.place = place;
      shaped = shaped || !body.shapes.empty();
    }
    place += shaped ? 1 : 0;
  }
}

}  // namespace

std::vector<Body> bodies_of(const CellSpec& cell, const Model& model) {
  const int last = static_cast<int>(model.joint_count) - 1;
  const auto flange = static_cast<std::size_t>(last);
  std::vector<Body> bodies;
  if (cell.track) bodies.push_back({Body::Part::rails, "track rails", -1, cell.track->pose, cell.track->rails, 0});
  const std::string base = cell.arm.base_link.name.empty() ? "base" : cell.arm.base_link.name;
  if (cell.track) bodies.push_back({Body::Part::base, base, 0, model.link_frame[0] * cell.mount, cell.arm.base_link.shapes, 0});
  else bodies.push_back({Body::Part::base, base, -1, cell.mount, cell.arm.base_link.shapes, 0});
  const auto links = moving_links(cell);
  for (std::size_t i = 0; i < links.size(); ++i) {
    const bool carriage = cell.track && i == 0;
    const std::string name = !links[i].name.empty() ? links[i].name : carriage ? "carriage" : "link " + std::to_string(i + (cell.track ? 0 : 1));
    bodies.push_back({carriage ? Body::Part::carriage : Body::Part::link, name, static_cast<int>(i), model.link_frame[i], links[i].shapes, 0});
  }
  bodies.push_back({Body::Part::tool, cell.tool.name, last, model.link_frame[flange] * cell.arm.flange, cell.tool.shapes, 0});
  if (cell.load) bodies.push_back({Body::Part::load, cell.load->name, last, model.tool, cell.load->shapes, 0});
  for (std::size_t i = 0; i < cell.fixtures.size(); ++i) {
    const ShapeSpec& shape = cell.fixtures[i];
    bodies.push_back({Body::Part::fixture, shape.name.empty() ? "fixture " + std::to_string(i + 1) : shape.name, -1, identity_pose, {shape}, 0});
  }
  number_places(bodies);
  return bodies;
}

bool are_joined(const Body& a, const Body& b) {
  using Part = Body::Part;
  if (a.part == Part::fixture || b.part == Part::fixture) return false;
  if (a.frame == b.frame) return true;
  return on_chain(a) && on_chain(b) && std::abs(a.place - b.place) == 1;
}

std::vector<std::vector<double>> spread_postures(const Model& model, std::size_t count) {
  // The additive sequence of M. Roberts ("The unreasonable effectiveness of quasirandom sequences", 2018): steps of
  // 1/g, 1/g², ... with g the root of g^(n+1) = g + 1.
  const std::size_t n = model.joint_count;
  double g = 2;
  for (int i = 0; i < 60; ++i) g = std::pow(1 + g, 1.0 / static_cast<double>(n + 1));
  std::vector<std::vector<double>> postures(count, std::vector<double>(n));
  for (std::size_t i = 0; i < n; ++i) {
    const double lower = std::isfinite(model.lower[i]) ? model.lower[i] : std::isfinite(model.upper[i]) ? model.upper[i] - 2 * std::numbers::pi : -std::numbers::pi;
    const double upper = std::isfinite(model.upper[i]) ? model.upper[i] : lower + 2 * std::numbers::pi;
    const double step = std::pow(1 / g, static_cast<double>(i + 1));
    for (std::size_t k = 0; k < count; ++k) {
      const double share = 0.5 + step * static_cast<double>(k + 1);
      postures[k][i] = lower + (upper - lower) * (share - std::floor(share));
    }
  }
  return postures;
}

}  // namespace armwright
