#include "bothways/report/escape.hpp"
#include "bothways/report/page/page.hpp"
#include "fuzz/hostile.hpp"
#include "fuzz/invariants.hpp"

#include <nlohmann/json.hpp>

#include <algorithm>
#include <iterator>
#include <set>
#include <sstream>
#include <string>
#include <utility>

/// Any texts as names of logs and set-ups, conditions and notes, into the pages and the figure: what they are
/// cannot change what is markup, what is a script and what is an expression that a chart works out. The
/// charting runtime and the rest of what is not made from texts is left out.
extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size);

namespace {

using namespace bothways;
using bothways_fuzz::demand;
using bothways_fuzz::Texts;
using Json = nlohmann::json;
using Words = std::set<std::string>;

constexpr std::string_view data_tag = R"(<script id="data">)";
constexpr std::string_view page_document =
    R"(<h1 title="{{title}}">{{head}}{{result}}{{splits}}{{speed}}{{acceleration}}{{difference}}{{ride}})"
    R"({{map}}{{left_out}}{{pairs}}{{runs}}{{notes}}{{method}}<textarea>{{csv}}</textarea></h1>)"
    R"(<script id="data">{{data}}</script>)";
constexpr std::string_view logbook_document =
    R"(<h1 title="{{title}}">{{head}}{{result}}{{entries}}{{charts}}{{changes}}{{method}})"
    R"(<textarea>{{csv}}</textarea></h1><script id="data">{{data}}</script>)";
constexpr PageParts parts{.document = page_document, .logbook = logbook_document};

/// What of a document is markup, and what is text.
struct Markup {
  Words tags;  ///< each kind: its name and those of its attributes
  std::string text;
};

/// The text behind a character reference. @param rest  from & on; it is taken off
char take_reference(std::string_view& rest) {
  for (const auto& [name, c] : {std::pair<std::string_view, char>{"&amp;", '&'},
                                {"&lt;", '<'},
                                {"&gt;", '>'},
                                {"&quot;", '"'},
                                {"&#39;", '\''}}) {
    if (rest.starts_with(name)) {
      rest.remove_prefix(name.size());
      return c;
    }
  }
  demand(false);
  return '\0';
}

/// From < to >. @param rest  it is taken off
std::string take_tag(std::string_view& rest) {
  std::string kind;
  while (!rest.starts_with('>')) {
    if (rest.starts_with('"')) {
      const std::size_t end = rest.find('"', 1);
      demand(end != std::string_view::npos && rest.substr(0, end).find('<') == std::string_view::npos);
      rest.remove_prefix(end);
    } else {
      kind += rest.front();
    }
    rest.remove_prefix(1);
    demand(!rest.empty());
  }
  rest.remove_prefix(1);
  return kind;
}

Markup markup_of(std::string_view rest) {
  Markup markup;
  while (!rest.empty()) {
    demand(rest.front() != '>');
    if (rest.front() == '<') {
      markup.tags.insert(take_tag(rest));
    } else if (rest.front() == '&') {
      markup.text += take_reference(rest);
    } else {
      const std::string_view text = rest.substr(0, rest.find_first_of("<>&"));
      markup.text += text;
      rest.remove_prefix(text.size());
    }
  }
  return markup;
}

/// All that a chart's runtime takes for code or for the name of something.
void add_expressions(const Json& spec, Words& words) {
  for (const auto& [key, value] : spec.items()) {
    static const Words code{"signal", "expr", "test", "update", "field", "scale", "events", "type"};
    if (value.is_string() && code.count(key) > 0) {
      words.insert(value.get<std::string>());
    } else if (value.is_structured()) {
      add_expressions(value, words);
    }
  }
}

/// A page, parted.
struct Parted {
  Markup markup;
  Json data;
  Words expressions;
};

Parted parted(const std::string& page) {
  bothways_fuzz::demand_harmless(page, "\n");
  const std::size_t tag = page.find(data_tag);
  const std::size_t end = page.find('<', tag + data_tag.size());
  demand(tag != std::string::npos && page.substr(end) == "</script>");
  const std::string data = page.substr(tag + data_tag.size(), end - tag - data_tag.size());
  demand(is_plain(data) && data.find_first_of(">&") == std::string::npos);
  Parted out{.markup = markup_of(std::string_view(page).substr(0, tag)), .data = Json::parse(data)};
  add_expressions(out.data["charts"], out.expressions);
  return out;
}

std::string page_of(Texts texts) {
  const Page page{.compared = compared_of(texts), .with_map = true, .version = "1"};
  std::ostringstream out;
  write_page(out, page, parts);
  return out.str();
}

std::string figure_of(Texts texts) {
  const Page page{.compared = compared_of(texts)};
  std::ostringstream out;
  write_figure(out, page);
  bothways_fuzz::demand_harmless(out.str(), "\n");
  return out.str();
}

std::string logbook_page_of(Texts texts) {
  std::ostringstream out;
  write_logbook_page(out, logbook_of(texts), parts, "1");
  return out.str();
}

bool within(const Words& some, const Words& all) {
  return std::includes(all.begin(), all.end(), some.begin(), some.end());
}

/// No two alike, so that all that a page can have is there.
Texts plain() {
  std::vector<std::string> texts;
  for (int i = 0; i < 100; ++i) {
    texts.push_back("text " + std::to_string(i));
  }
  return Texts(std::move(texts));
}

void check_page(const Texts& texts) {
  static const Parted usual = parted(page_of(plain()));
  const Parted page = parted(page_of(texts));
  demand(within(page.markup.tags, usual.markup.tags) && within(page.expressions, usual.expressions));
  Texts again = texts;
  const Compared compared = compared_of(again);
  for (std::size_t i = 0; i < compared.sides.size(); ++i) {
    const Side& side = compared.sides[i];
    demand(page.data["sides"][i]["name"] == escaped(side.name));
    demand(page.markup.text.find(escaped(side.name)) != std::string::npos);
  }
  const std::string& setup = compared.sides.front().rides.front().conditions->setup;
  demand(page.markup.text.find(escaped(setup)) != std::string::npos);
  const Json& start = page.data["tables"]["ride_others0"][0]["text"];
  demand(start.get<std::string>().ends_with(
      escaped(compared.sides.front().rides.front().runs.rejected.front().text)));
}

void check_figure(const Texts& texts) {
  static const Markup usual = markup_of(figure_of(plain()));
  demand(within(markup_of(figure_of(texts)).tags, usual.tags));
}

void check_logbook(const Texts& texts) {
  static const Parted usual = parted(logbook_page_of(plain()));
  const Parted page = parted(logbook_page_of(texts));
  demand(within(page.markup.tags, usual.markup.tags) && within(page.expressions, usual.expressions));
}

}  // namespace

int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  constexpr std::string_view fronts[] = {"", "</script>", "<!--", "\" onload=\"", "&lt;"};
  const Texts texts({data, size}, fronts[size % std::size(fronts)]);
  check_page(texts);
  check_figure(texts);
  check_logbook(texts);
  return 0;
}
