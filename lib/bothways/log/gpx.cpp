#include "bothways/core/error.hpp"
#include "bothways/core/text.hpp"
#include "bothways/log/gpx_points.hpp"
#include "bothways/log/number.hpp"
#include "bothways/log/readers.hpp"

#include <fmt/format.h>
#include <libxml/SAX2.h>
#include <libxml/parser.h>
#include <libxml/xmlerror.h>

#include <array>
#include <exception>
#include <memory>
#include <utility>

namespace bothways {

namespace {

// Element names of a hostile file would fill the parser's dictionary and slow it to a halt; real files need
// less than 10 KiB.
constexpr std::size_t dictionary_bytes = std::size_t{64} * 1024;

struct Named {
  const char* text;
  GpxName name;
};
constexpr std::array<Named, 11> names = {
    Named{"trkpt", GpxName::trkpt},   Named{"time", GpxName::time},
    Named{"ele", GpxName::ele},       Named{"speed", GpxName::speed},
    Named{"course", GpxName::course}, Named{"hdop", GpxName::hdop},
    Named{"sat", GpxName::sat},       Named{"extensions", GpxName::extensions},
    Named{"rtept", GpxName::rtept},   Named{"wpt", GpxName::wpt},
    Named{"gpx", GpxName::gpx}};

/// The first thing that stopped the parser.
struct Stop {
  bool happened = false;
  bool at_end = false;  ///< the file simply ends there
  std::size_t line = 0;
  std::string reason;
};

/// One pull parse. The C callbacks get `this`; no exception passes through the parser.
class GpxParse {
 public:
  GpxParse(const ByteSource& source, const ReadLimits& limits, std::size_t bytes)
      : source_(source), points_(limits, bytes) {}

  void run() {
    xmlSAXHandler handler{};
    handler.initialized = XML_SAX2_MAGIC;
    handler.startElementNs = on_start;
    handler.endElementNs = on_end;
    handler.characters = on_text;
    handler.ignorableWhitespace = on_text;
    handler.cdataBlock = on_text;
    handler.serror = on_error;
    context_ = xmlCreateIOParserCtxt(&handler, this, on_read, nullptr, this, XML_CHAR_ENCODING_NONE);
    if (context_ == nullptr) {
      throw std::bad_alloc();
    }
    const std::unique_ptr<xmlParserCtxt, void (*)(xmlParserCtxtPtr)> owner(context_, xmlFreeParserCtxt);
    xmlCtxtUseOptions(context_, XML_PARSE_NONET | XML_PARSE_NOERROR | XML_PARSE_NOWARNING);
    context_->sax->serror = on_error;
    xmlDictSetLimit(context_->dict, dictionary_bytes);
    for (std::size_t i = 0; i < names.size(); ++i) {
      interned_[i] = intern(names[i].text);
    }
    lat_ = intern("lat");
    lon_ = intern("lon");
    xmlParseDocument(context_);
    if (failure_) {
      std::rethrow_exception(failure_);
    }
  }

  [[nodiscard]] GpxPoints& points() { return points_; }
  [[nodiscard]] const Stop& stop() const { return stop_; }
  [[nodiscard]] const Tally& ampersands() const { return ampersands_; }

 private:
  static GpxParse& self(void* user) { return *static_cast<GpxParse*>(user); }

  const xmlChar* intern(const char* text) {
    return xmlDictLookup(context_->dict, reinterpret_cast<const xmlChar*>(text), -1);
  }

  [[nodiscard]] GpxName look_up(const xmlChar* name) const {
    for (std::size_t i = 0; i < names.size(); ++i) {
      if (interned_[i] == name) {
        return names[i].name;
      }
    }
    return GpxName::other;
  }

  /// Runs what may throw; keeps the exception for run() and stops the parser.
  template <typename Work>
  void guarded(const Work& work) {
    try {
      work();
    } catch (...) {
      failure_ = std::current_exception();
      xmlStopParser(context_);
    }
  }

  static int on_read(void* user, char* into, int size) {
    GpxParse& me = self(user);
    if (size <= 0 || me.failure_) {
      return size < 0 || me.failure_ ? -1 : 0;
    }
    try {
      const auto got = me.source_({into, static_cast<std::size_t>(size)});
      me.source_ended_ = got == 0;
      me.read_ += got;
      me.points_.set_used(me.read_);
      return static_cast<int>(got);
    } catch (...) {
      me.failure_ = std::current_exception();
      return -1;
    }
  }

  static void on_start(void* user, const xmlChar* name, const xmlChar* /*prefix*/, const xmlChar* /*uri*/,
                       int /*namespaces*/, const xmlChar** /*namespace_list*/, int attributes,
                       int /*defaulted*/, const xmlChar** attribute) {
    GpxParse& me = self(user);
    const auto line = static_cast<std::size_t>(me.context_->input->line);
    if (me.points_.open(me.look_up(name), line)) {
      for (int i = 0; i < attributes; ++i, attribute += 5) {  // name, prefix, URI, value, end of value
        const std::string_view value(reinterpret_cast<const char*>(attribute[3]),
                                     static_cast<std::size_t>(attribute[4] - attribute[3]));
        if (attribute[0] == me.lat_) {
          me.points_.set_lat(value);
        } else if (attribute[0] == me.lon_) {
          me.points_.set_lon(value);
        }
      }
    }
  }

  static void on_end(void* user, const xmlChar* name, const xmlChar* /*prefix*/, const xmlChar* /*uri*/) {
    GpxParse& me = self(user);
    me.guarded([&] { me.points_.close(me.look_up(name)); });
    if (me.points_.full()) {
      xmlStopParser(me.context_);
    }
  }

  static void on_text(void* user, const xmlChar* text, int size) {
    GpxParse& me = self(user);
    if (me.points_.wants_text()) {
      me.guarded([&] {
        me.points_.text({reinterpret_cast<const char*>(text), static_cast<std::size_t>(size)});
      });
    }
  }

  static void on_error(void* user, xmlErrorPtr error) {
    GpxParse& me = self(user);
    if (error->level != XML_ERR_FATAL || me.stop_.happened || me.points_.full()) {
      return;  // warnings and undeclared name-space prefixes do no harm
    }
    if (me.is_bare_ampersand(*error)) {
      me.ampersands_.add(error->line > 0 ? static_cast<std::size_t>(error->line) : 0);
      me.context_->recovery = 1;  // looked at when this function returns: go on
      return;
    }
    if (me.context_ != nullptr) {
      me.context_->recovery = 0;
    }
    try {
      me.stop_.happened = true;
      me.stop_.line = error->line > 0 ? static_cast<std::size_t>(error->line) : 0;
      me.stop_.reason = trimmed(error->message == nullptr ? "" : error->message);
      const xmlParserInput* input = me.context_ == nullptr ? nullptr : me.context_->input;
      me.stop_.at_end = me.source_ended_ && (input == nullptr || input->cur >= input->end);
    } catch (...) {
      me.failure_ = std::current_exception();
    }
  }

  /// A `&` that starts no entity, in text that we do not read (a name, a comment of the rider): harmless. In
  /// a figure or an attribute it could join two figures. So many only, for each costs the parser time.
  [[nodiscard]] bool is_bare_ampersand(const xmlError& error) const {
    constexpr std::size_t most = 1000;
    const std::string_view message = error.message == nullptr ? "" : error.message;
    const bool no_entity =
        error.code == XML_ERR_ENTITYREF_SEMICOL_MISSING ||
        (error.code == XML_ERR_NAME_REQUIRED && message.substr(0, entity_message.size()) == entity_message);
    return no_entity && context_ != nullptr && context_->instate == XML_PARSER_CONTENT &&
           !points_.wants_text() && ampersands_.count < most;
  }

  static constexpr std::string_view entity_message = "xmlParseEntityRef";

  const ByteSource& source_;
  GpxPoints points_;
  Tally ampersands_;
  xmlParserCtxtPtr context_ = nullptr;
  std::array<const xmlChar*, names.size()> interned_{};
  const xmlChar* lat_ = nullptr;
  const xmlChar* lon_ = nullptr;
  bool source_ended_ = false;
  std::size_t read_ = 0;
  Stop stop_;
  std::exception_ptr failure_;
};

void note_stop(const Stop& stop, std::vector<Note>& notes) {
  if (!stop.happened) {
    return;
  }
  if (stop.at_end) {
    notes.push_back(
        {"cut-off",
         fmt::format("the file ends in the middle, in line {}; what stands before it was used", stop.line),
         stop.line});
  } else {
    notes.push_back({"broken-xml",
                     fmt::format("the XML is broken in line {} ({}); only what stands before it was used",
                                 stop.line, stop.reason),
                     stop.line});
  }
}

}  // namespace

Draft read_gpx(const ByteSource& source, const std::string& name, const ReadLimits& limits,
               std::size_t bytes) {
  xmlInitParser();
  GpxParse parse(source, limits, bytes);
  parse.run();
  const GpxPoints& points = parse.points();
  const std::size_t untimed = points.untimed();
  const std::size_t planned = points.planned();
  Draft draft = parse.points().take_draft();
  add_note(draft.notes, "bare-ampersand", parse.ampersands(),
           R"("&" stands alone in a text where XML wants "&amp;"; it was passed over)",
           R"("&" stand alone in texts where XML wants "&amp;"; they were passed over)");
  note_stop(parse.stop(), draft.notes);
  if (!draft.fixes.empty()) {
    return draft;
  }
  if (untimed > 0) {
    throw LogError(name, 0,
                   "none of its track points has a time that can be read, so no speed can be worked out; "
                   "record the ride with times");
  }
  if (parse.stop().at_end) {
    throw LogError(name, parse.stop().line,
                   "the file ends before its first track point is whole; export the ride again");
  }
  if (parse.stop().happened) {
    throw LogError(name, parse.stop().line,
                   "the XML is broken before the first track point (" + parse.stop().reason +
                       "); export the ride again");
  }
  if (planned > 0) {
    throw LogError(name, 0,
                   "it holds a planned route or waypoints but no recorded track; give the log of a ride");
  }
  throw LogError(name, 0, "it is a GPX file without any track point; give the log of a ride");
}

}  // namespace bothways
