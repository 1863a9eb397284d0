#pragma once

#include <array>
#include <cstdint>

namespace armwright {

/// Real roots of a trigonometric polynomial of degree 8 from its values at the 17 angles 2 pi k / 17.
inline constexpr std::size_t trig_degree = 8;
inline constexpr std::size_t trig_nodes = 2 * trig_degree + 1;
/// And at two more, halfway between nodes: how far the polynomial through the nodes misses them tells the noise.
inline constexpr std::array<double, 2> trig_check_nodes{3.5, 11.5};
struct TrigSamples {
  std::array<double, trig_nodes> node;
  std::array<double, 2> check;
};

enum class RootKind : std::uint8_t {
  crossing,  ///< a simple root, for certain
  touching,  ///< one of a near-double pair, or a near miss: complex roots close to the real axis
};
struct TrigRoot {
  double angle;
  RootKind kind;
};

struct TrigRoots {
  static constexpr int capacity = 40;
  int count = 0;
  std::array<TrigRoot, capacity> root;
  double noise = 0;      ///< of the function, as a share of its largest value
  bool drowned = false;  ///< some stretch of the circle is lost in rounding noise: roots may be missing

  void add(double angle, RootKind kind) {
    if (count < capacity) root[static_cast<std::size_t>(count++)] = {angle, kind};
    else drowned = true;
  }
};

/// Isolates roots on 34 arcs: on each the function is a polynomial of degree 10 in Bernstein form (truncation below
/// 1e-12 of the largest value); coefficients of one sign prove that there is no root, one change of sign proves one
/// root (Vincent; Lane and Riesenfeld 1981, from memory); otherwise the arc is halved. Constant tables, made once.
class TrigRootFinder {
 public:
  TrigRootFinder();
  /// `floor`: what rounding alone may make of the samples, absolute.
  TrigRoots roots(const TrigSamples& samples, double floor) const;

 private:
  static constexpr std::size_t degree = 10;
  using Bernstein = std::array<double, degree + 1>;
  struct Spectrum {
    std::array<double, trig_degree + 1> cosine, sine;
  };
  struct Local {
    double value, slope, bend;
  };
  static Local at(const Spectrum& f, double angle);
  static double simple_root(const Spectrum& f, double low, double high, double at_low);
  static void near_double(const Spectrum& f, double low, double high, double noise, TrigRoots& out);
  static void search_arc(const Spectrum& f, const Bernstein& arc, double low, double noise, TrigRoots& out);
  Spectrum spectrum(const TrigSamples& samples) const;

  std::array<std::array<Bernstein, trig_nodes>, 2> to_bernstein_;  // [half][sample][coefficient]
  std::array<std::array<double, trig_nodes>, trig_degree + 1> cosines_, sines_;
};

}  // namespace armwright
