#include "bothways/log/xml_pull.hpp"

#include "bothways/core/text.hpp"

#include <fmt/format.h>
#include <libxml/SAX2.h>
#include <libxml/parser.h>
#include <libxml/xmlerror.h>

#include <exception>
#include <memory>

namespace bothways {

namespace {

// Element names of a hostile file would fill the parser's dictionary and slow it to a halt; real files need
// less than 10 KiB.
constexpr std::size_t dictionary_bytes = std::size_t{64} * 1024;

// So many slips are passed over, for each costs the parser time.
constexpr std::size_t most_slips = 1000;

/// The parser's words, which quote a name from the file, without the rest of one that goes on and on.
std::string reason_of(std::string_view message) {
  constexpr std::size_t longest = 160;
  const std::string_view reason = trimmed(message);
  if (reason.size() <= longest) {
    return std::string(reason);
  }
  std::size_t end = longest;
  while (end > 0 && (static_cast<unsigned char>(reason[end]) & 0xC0U) == 0x80U) {
    --end;  // not inside a character of several bytes
  }
  return std::string(reason.substr(0, end)) + "...";
}

/// One pull parse. The C callbacks get `this`; no exception passes through the parser.
class XmlPull {
 public:
  XmlPull(const ByteSource& source, const XmlVisitor& visitor) : source_(source), visitor_(visitor) {}

  XmlOutcome run() {
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
    names_ = interned(visitor_.names);
    attributes_ = interned(visitor_.attributes);
    xmlParseDocument(context_);
    if (failure_) {
      std::rethrow_exception(failure_);
    }
    return std::move(outcome_);
  }

 private:
  using Names = std::vector<const xmlChar*>;

  static XmlPull& self(void* user) { return *static_cast<XmlPull*>(user); }

  [[nodiscard]] Names interned(std::span<const char* const> texts) const {
    Names all;
    for (const char* text : texts) {
      all.push_back(xmlDictLookup(context_->dict, reinterpret_cast<const xmlChar*>(text), -1));
    }
    return all;
  }

  /// Names are interned, so that the pointers tell; the size of the list if it is none of them.
  static std::size_t index_in(const Names& names, const xmlChar* name) {
    std::size_t index = 0;
    while (index < names.size() && names[index] != name) {
      ++index;
    }
    return index;
  }

  /// Runs what may throw; keeps the exception for run() and stops the parser.
  template <typename Work>
  void guarded(const Work& work) {
    if (failure_ || enough_) {
      return;
    }
    try {
      work();
    } catch (...) {
      failure_ = std::current_exception();
      xmlStopParser(context_);
    }
  }

  static int on_read(void* user, char* into, int size) {
    XmlPull& me = self(user);
    if (size <= 0 || me.failure_) {
      return size < 0 || me.failure_ ? -1 : 0;
    }
    if (me.outcome_.broken) {
      return 0;  // the parser would check the rest, however long, for nothing
    }
    try {
      const auto got = me.source_({into, static_cast<std::size_t>(size)});
      me.source_ended_ = got == 0;
      return static_cast<int>(got);
    } catch (...) {
      me.failure_ = std::current_exception();
      return -1;
    }
  }

  static void on_start(void* user, const xmlChar* name, const xmlChar* /*prefix*/, const xmlChar* /*uri*/,
                       int /*namespaces*/, const xmlChar** /*namespace_list*/, int attributes,
                       int /*defaulted*/, const xmlChar** attribute) {
    XmlPull& me = self(user);
    me.context_->wellFormed = 1;  // after a slip "&amp;" would be passed over, too
    me.guarded([&] {
      const XmlWant want =
          me.visitor_.open(index_in(me.names_, name), static_cast<std::size_t>(me.context_->input->line));
      me.wants_text_ = want == XmlWant::text;
      if (want == XmlWant::attributes) {
        me.show(attribute, attributes);
      }
      me.slip_in_tag_ = false;
    });
  }

  /// Shows the attributes that the reader knows. Where something was passed over in the tag two figures may
  /// have been joined: they are shown as empty.
  void show(const xmlChar** attribute, int count) {
    for (int i = 0; i < count; ++i, attribute += 5) {  // name, prefix, URI, value, end of value
      const std::size_t index = index_in(attributes_, attribute[0]);
      if (index < attributes_.size()) {
        const std::string_view value(reinterpret_cast<const char*>(attribute[3]),
                                     static_cast<std::size_t>(attribute[4] - attribute[3]));
        visitor_.attribute(index, slip_in_tag_ ? std::string_view{} : value);
      }
    }
  }

  static void on_end(void* user, const xmlChar* name, const xmlChar* /*prefix*/, const xmlChar* /*uri*/) {
    XmlPull& me = self(user);
    me.wants_text_ = false;
    me.guarded([&] {
      if (!me.visitor_.close(index_in(me.names_, name))) {
        me.enough_ = true;
        xmlStopParser(me.context_);
      }
    });
  }

  static void on_text(void* user, const xmlChar* text, int size) {
    XmlPull& me = self(user);
    if (me.wants_text_) {
      me.guarded([&] {
        me.visitor_.text({reinterpret_cast<const char*>(text), static_cast<std::size_t>(size)});
      });
    }
  }

  static void on_error(void* user, xmlErrorPtr error) {
    XmlPull& me = self(user);
    if (me.outcome_.broken || me.enough_ || me.failure_) {
      return;
    }
    if (Tally* slip = me.slip_of(*error)) {
      slip->add(error->line > 0 ? static_cast<std::size_t>(error->line) : 0);
      me.spoil();
      me.context_->recovery = 1;  // looked at when this function returns: go on
      return;
    }
    if (error->level != XML_ERR_FATAL) {
      return;  // warnings and undeclared name-space prefixes do no harm
    }
    if (me.context_ != nullptr) {
      me.context_->recovery = 0;
    }
    try {
      me.outcome_.broken = true;
      me.outcome_.line = error->line > 0 ? static_cast<std::size_t>(error->line) : 0;
      me.outcome_.reason = reason_of(error->message == nullptr ? "" : error->message);
      const xmlParserInput* input = me.context_ == nullptr ? nullptr : me.context_->input;
      me.outcome_.at_end = me.source_ended_ && (input == nullptr || input->cur >= input->end);
    } catch (...) {
      me.failure_ = std::current_exception();
    }
  }

  /// Where to count a `&` that starts no entity, or an entity that XML does not know; nullptr for all other
  /// errors.
  [[nodiscard]] Tally* slip_of(const xmlError& error) {
    constexpr std::string_view entity_message = "xmlParseEntityRef";
    const std::string_view message = error.message == nullptr ? "" : error.message;
    const bool inside = context_ != nullptr && (context_->instate == XML_PARSER_CONTENT ||
                                                context_->instate == XML_PARSER_ATTRIBUTE_VALUE);
    if (!inside || outcome_.ampersands.count + outcome_.entities.count >= most_slips) {
      return nullptr;
    }
    if (error.code == XML_ERR_UNDECLARED_ENTITY || error.code == XML_WAR_UNDECLARED_ENTITY) {
      return &outcome_.entities;
    }
    const bool bare = error.code == XML_ERR_ENTITYREF_SEMICOL_MISSING ||
                      (error.code == XML_ERR_NAME_REQUIRED && message.starts_with(entity_message));
    return bare ? &outcome_.ampersands : nullptr;
  }

  /// In a name, a comment of the rider or a link what is passed over does no harm. In a figure it could join
  /// two: a mark that no figure has stands in its place.
  void spoil() {
    slip_in_tag_ = slip_in_tag_ || context_->instate == XML_PARSER_ATTRIBUTE_VALUE;
    if (wants_text_) {
      guarded([&] { visitor_.text("\xEF\xBF\xBD"); });
    }
  }

  const ByteSource& source_;
  const XmlVisitor& visitor_;
  xmlParserCtxtPtr context_ = nullptr;
  Names names_;
  Names attributes_;
  bool wants_text_ = false;
  bool slip_in_tag_ = false;
  bool source_ended_ = false;
  bool enough_ = false;
  XmlOutcome outcome_;
  std::exception_ptr failure_;
};

}  // namespace

XmlOutcome pull_xml(const ByteSource& source, const XmlVisitor& visitor) {
  xmlInitParser();
  return XmlPull(source, visitor).run();
}

void add_xml_notes(const XmlOutcome& outcome, std::vector<Note>& notes) {
  add_note(notes, "bare-ampersand", outcome.ampersands,
           R"("&" stands alone where XML wants "&amp;"; it was passed over)",
           R"("&" stand alone where XML wants "&amp;"; they were passed over)");
  add_note(notes, "unknown-entity", outcome.entities,
           R"(name of a character, such as "&nbsp;", is none of XML's; it was passed over)",
           R"(names of characters, such as "&nbsp;", are none of XML's; they were passed over)");
  if (!outcome.broken) {
    return;
  }
  if (outcome.at_end) {
    notes.push_back(
        {"cut-off",
         fmt::format("the file ends in the middle, in line {}; what stands before it was used", outcome.line),
         outcome.line});
  } else {
    notes.push_back({"broken-xml",
                     fmt::format("the XML is broken in line {} ({}); only what stands before it was used",
                                 outcome.line, outcome.reason),
                     outcome.line});
  }
}

std::string_view xml_root(std::string_view text) {
  for (std::size_t at = text.find('<'); at != std::string_view::npos; at = text.find('<', at)) {
    const std::string_view here = text.substr(at);
    if (here.starts_with("<!--")) {
      at = text.find("-->", at);
    } else if (here.starts_with("<?") || here.starts_with("<!")) {
      ++at;
    } else {
      const std::string_view name = here.substr(1, here.find_first_of(" \t\r\n/>", 1) - 1);
      const auto colon = name.find(':');
      return colon == std::string_view::npos ? name : name.substr(colon + 1);
    }
    if (at == std::string_view::npos) {
      break;
    }
  }
  return {};
}

}  // namespace bothways
