#pragma once

#include "bothways/log/draft.hpp"
#include "bothways/log/read.hpp"

#include <cstddef>
#include <functional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace bothways {

/// What a reader wants of an element that begins.
enum class XmlWant { nothing, attributes, text };

/// What a reader of an XML format does with its elements. Names are local ones, without prefix; those that
/// are not in the list count as `names.size()`. Text may come in pieces.
struct XmlVisitor {
  std::span<const char* const> names;       ///< of elements; they are looked for in this order
  std::span<const char* const> attributes;  ///< of those whose attributes are wanted; others are not shown
  std::function<XmlWant(std::size_t name, std::size_t line)> open;
  std::function<void(std::size_t attribute, std::string_view value)> attribute;
  std::function<void(std::string_view piece)> text;  ///< of an element whose text is wanted
  std::function<bool(std::size_t name)> close;       ///< false: enough was read
};

/// How a parse went.
struct XmlOutcome {
  bool broken = false;
  bool at_end = false;   ///< broken because the file simply ends there
  std::size_t line = 0;  ///< of the break
  std::string reason;    ///< the library's words
  Tally ampersands;      ///< `&` alone in a text or an attribute that is not read
  Tally entities;        ///< named entities that XML does not know, in the same places
};

/// Parses XML of any encoding as it comes, without a tree: no network, no entity but the five of XML, at most
/// 64 KiB of names. What the visitor throws ends the parse and is thrown on.
/// @throws LogError  if the source does
[[nodiscard]] XmlOutcome pull_xml(const ByteSource& source, const XmlVisitor& visitor);

/// Notes of what was passed over, and of the break if there was one.
void add_xml_notes(const XmlOutcome& outcome, std::vector<Note>& notes);

/// Local name of the first element of an XML text (its first KiB are enough); empty if there is none.
[[nodiscard]] std::string_view xml_root(std::string_view text);

}  // namespace bothways
