// The page's first chart by itself, as SVG, for where there is no browser.
#include "bothways/core/rounding.hpp"
#include "bothways/report/page/charts.hpp"
#include "bothways/report/page/html.hpp"
#include "bothways/report/page/parts.hpp"
#include "bothways/report/page/tables.hpp"

#include <algorithm>
#include <cmath>
#include <ostream>

namespace bothways {

namespace {

constexpr double wide = 760.0;
constexpr double high = 440.0;
constexpr double left = 56.0;
constexpr double right = 20.0;
constexpr double top = 84.0;
constexpr double bottom = 48.0;

/// From figures to places on the paper.
struct Axis {
  double lo = 0.0;
  double hi = 1.0;
  double from = 0.0;
  double to = 1.0;

  [[nodiscard]] double at(double value) const { return from + (value - lo) / (hi - lo) * (to - from); }
};

/// 1, 2 or 5 times a power of ten, about `count` of them in `range`.
double tick_step(double range, int count) {
  const double rough = range / count;
  const double power = std::pow(10.0, std::floor(std::log10(rough)));
  const double share = rough / power;
  return power * (share < 1.5 ? 1.0 : share < 3.5 ? 2.0 : share < 7.5 ? 5.0 : 10.0);
}

std::string px(double value) {
  return fixed(value, 1);
}

std::string text_at(double x, double y, const std::string& attributes, const std::string& text) {
  return "<text x=\"" + px(x) + "\" y=\"" + px(y) + "\" " + attributes + ">" + html_text(text) + "</text>\n";
}

std::string line_from(double x1, double y1, double x2, double y2, const std::string& attributes) {
  return "<line x1=\"" + px(x1) + "\" y1=\"" + px(y1) + "\" x2=\"" + px(x2) + "\" y2=\"" + px(y2) + "\" " +
         attributes + "/>\n";
}

class Figure {
 public:
  explicit Figure(const PageWork& work)
      : work_(work), curves_(curves_table(work.page)), colours_(palettes()["light"]) {
    double last_s = 1.0;
    double first_s = 0.0;
    double most = 1.0;
    for (const Json& block : curves_) {
      for (std::size_t i = 0; i < block["t"].size(); ++i) {
        first_s = std::min(first_s, block["t"][i].get<double>());
        last_s = std::max(last_s, block["t"][i].get<double>());
        most = std::max(most, block["hi"][i].get<double>());
      }
    }
    x_ = {first_s, last_s, left, wide - right};
    y_ = {0.0, most * 1.03, high - bottom, top};
  }

  [[nodiscard]] std::string svg() const {
    const std::vector<std::string> sentences = result_sentences(work_);
    const std::string title = sentences.empty() ? "Speed against time" : sentences.front();
    std::string out =
        R"(<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 )" + px(wide) + " " + px(high) +
        R"(" role="img" font-family="Liberation Sans, Helvetica, Arial, sans-serif" font-size="12">)" +
        "\n<title>" + html_text(title) + "</title>\n" + R"(<rect width="100%" height="100%" fill=")" +
        colour("paper") + "\"/>\n";
    out += text_at(left, 26.0, R"(font-size="17" font-weight="bold" fill=")" + colour("ink") + "\"", title);
    out += text_at(left, 46.0, soft(), "speed against time after the clock start; bands are 95 % intervals");
    return out + legend() + axes() + bands() + lines() + "</svg>\n";
  }

 private:
  [[nodiscard]] std::string colour(const char* name) const { return colours_[name].get<std::string>(); }
  [[nodiscard]] std::string soft() const { return "fill=\"" + colour("soft") + "\""; }

  [[nodiscard]] std::string hue(const std::string& group) const {
    const auto& groups = work_.plan.groups;
    const bool sides = work_.plan.compared && groups.size() > 2;
    const Json& hues = colours_[sides ? "side_hues" : "way_hues"];
    const auto at = static_cast<std::size_t>(std::find(groups.begin(), groups.end(), group) - groups.begin());
    return hues[at % hues.size()].get<std::string>();
  }

  static std::string dash(const std::string& group) {
    return group.ends_with("back") ? " stroke-dasharray=\"5 3\"" : "";
  }

  [[nodiscard]] std::string legend() const {
    std::string out;
    double x = left;
    for (const std::string& group : work_.plan.groups) {
      out += line_from(x, 64.0, x + 26.0, 64.0,
                       "stroke=\"" + hue(group) + R"(" stroke-width="2.4")" + dash(group));
      out += text_at(x + 32.0, 68.0, "fill=\"" + colour("ink") + "\"", group);
      x += 60.0 + 7.0 * static_cast<double>(group.size());
    }
    return out;
  }

  [[nodiscard]] std::string axes() const {
    std::string out;
    const std::string grid = "stroke=\"" + colour("rule") + "\"";
    const double step_s = tick_step(x_.hi - x_.lo, 9);
    for (int k = static_cast<int>(std::ceil(x_.lo / step_s)); k * step_s <= x_.hi; ++k) {
      const double t = k * step_s;
      out += line_from(x_.at(t), y_.from, x_.at(t), y_.to, grid);
      out += text_at(x_.at(t), y_.from + 18.0, "text-anchor=\"middle\" " + soft(),
                     fixed(t, step_s < 1.0 ? 1 : 0));
    }
    const double step = tick_step(y_.hi, 6);
    for (int k = 0; k * step <= y_.hi; ++k) {
      const double v = k * step;
      out += line_from(x_.from, y_.at(v), x_.to, y_.at(v), grid);
      out += text_at(x_.from - 8.0, y_.at(v) + 4.0, "text-anchor=\"end\" " + soft(), fixed(v, 0));
    }
    out += line_from(x_.from, y_.from, x_.to, y_.from, "stroke=\"" + colour("soft") + "\"");
    out += text_at((x_.from + x_.to) / 2.0, high - 12.0, "text-anchor=\"middle\" " + soft(),
                   "s after the clock start");
    out += text_at(x_.from - 8.0, top - 8.0, "text-anchor=\"end\" " + soft(),
                   work_.page.compared.metric ? "km/h" : "mph");
    return out;
  }

  void add_points(const Json& block, const char* field, bool backwards, std::string& out) const {
    const std::size_t n = block["t"].size();
    for (std::size_t k = 0; k < n; ++k) {
      const std::size_t i = backwards ? n - 1 - k : k;
      out += (out.empty() ? "" : " ") + px(x_.at(block["t"][i].get<double>())) + "," +
             px(y_.at(block[field][i].get<double>()));
    }
  }

  [[nodiscard]] std::string bands() const {
    std::string out;
    for (const Json& block : curves_) {
      std::string points;
      add_points(block, "hi", false, points);
      add_points(block, "lo", true, points);
      out += "<polygon points=\"" + points + "\" fill=\"" + hue(block["group"].get<std::string>()) +
             "\" fill-opacity=\"0.16\"/>\n";
    }
    return out;
  }

  [[nodiscard]] std::string lines() const {
    std::string out;
    for (const Json& block : curves_) {
      const auto group = block["group"].get<std::string>();
      std::string points;
      add_points(block, "v", false, points);
      out += "<polyline points=\"" + points + R"(" fill="none" stroke=")" + hue(group) +
             R"(" stroke-width="1.6")" + dash(group) + "/>\n";
    }
    return out;
  }

  const PageWork& work_;
  Json curves_;
  Json colours_;
  Axis x_;
  Axis y_;
};

}  // namespace

void write_figure(std::ostream& out, const Page& page) {
  const PageWork work = work_of(page);
  out << Figure(work).svg();
}

}  // namespace bothways
