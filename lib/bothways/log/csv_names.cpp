#include "bothways/log/csv_names.hpp"

#include "bothways/core/units.hpp"
#include "bothways/log/csv_words.hpp"

#include <algorithm>
#include <vector>

namespace bothways {

namespace {

struct Known {
  std::string_view name;
  CsvRole role;
};

/// Names that stand for themselves, or with a unit of `ends` behind them.
struct Named {
  CsvRole role;
  Naming naming;
  std::vector<std::string_view> names;
  std::vector<std::string_view> ends;
};

const std::vector<Named>& named() {
  static const std::vector<std::string_view> degrees = {"deg", "degrees", "grad", "dd"};
  static const std::vector<std::string_view> metres = {"m", "meter", "meters", "metre", "metres"};
  static const std::vector<Named> table = {
      {CsvRole::date, Naming::exact, {"date", "date_utc", "utc_date"}, {}},
      {CsvRole::date, Naming::loose, {"datum", "fecha", "data", "jour"}, {}},
      {CsvRole::lat, Naming::exact, {"lat", "latitude"}, degrees},
      {CsvRole::lat,
       Naming::loose,
       {"breite", "breitengrad", "geographische_breite", "latitud", "latitudine"},
       degrees},
      {CsvRole::lon, Naming::exact, {"lon", "lng", "long", "longitude"}, degrees},
      {CsvRole::lon,
       Naming::loose,
       {"laenge", "laengengrad", "geographische_laenge", "longitud", "longitudine"},
       degrees},
      {CsvRole::ele, Naming::exact, {"ele", "elevation", "alt", "altitude"}, metres},
      {CsvRole::ele, Naming::loose, {"hoehe", "altitud", "altitudine", "quota"}, metres},
      {CsvRole::speed_unitless, Naming::exact, {"speed"}, {}},
      {CsvRole::speed_sd, Naming::exact, {"speed_sd_mps", "speed_accuracy_mps", "speed_accuracy_m_s"}, {}},
      {CsvRole::course, Naming::exact, {"course"}, degrees},
      {CsvRole::hdop, Naming::exact, {"hdop"}, {}},
      {CsvRole::satellites, Naming::exact, {"sat", "satellites"}, {}},
      {CsvRole::position_sd, Naming::exact, {"position_sd_m"}, {}},
  };
  return table;
}

constexpr std::array unit_ends = {
    Known{"mps", CsvRole::speed_mps},   Known{"m_s", CsvRole::speed_mps},  Known{"kmh", CsvRole::speed_kmh},
    Known{"km_h", CsvRole::speed_kmh},  Known{"kph", CsvRole::speed_kmh},  Known{"kmph", CsvRole::speed_kmh},
    Known{"mph", CsvRole::speed_mph},   Known{"kn", CsvRole::speed_kn},    Known{"kt", CsvRole::speed_kn},
    Known{"kts", CsvRole::speed_kn},    Known{"knots", CsvRole::speed_kn}, Known{"knoten", CsvRole::speed_kn},
    Known{"noeuds", CsvRole::speed_kn}, Known{"nudos", CsvRole::speed_kn}, Known{"nodi", CsvRole::speed_kn},
};
constexpr std::array<std::string_view, 8> speed_words = {"speed",  "velocity", "velo",      "geschwindigkeit",
                                                         "geschw", "vitesse",  "velocidad", "velocita"};
/// What may stand beside these: GPS Speed, Geschwindigkeit in km/h, Vitesse en km/h.
constexpr std::array<std::string_view, 6> receiver_words = {"gps", "gnss", "over", "ground", "in", "en"};
constexpr std::array<std::string_view, 7> other_words = {"accuracy", "sd",  "std",     "error",
                                                         "wind",     "rpm", "vertical"};

bool is_named(std::string_view plain, const Named& row) {
  if (is_one_of(plain, row.names)) {
    return true;
  }
  const auto last = plain.rfind('_');
  return last != std::string_view::npos && is_one_of(plain.substr(last + 1), row.ends) &&
         is_one_of(plain.substr(0, last), row.names);
}

/// The unit that a name ends in, behind another word; nullptr if it ends in none.
const Known* unit_end(std::string_view plain) {
  const auto* found = std::find_if(unit_ends.begin(), unit_ends.end(), [&](const Known& unit) {
    return plain == unit.name || (plain.ends_with(unit.name) && plain.size() > unit.name.size() &&
                                  plain[plain.size() - unit.name.size() - 1] == '_');
  });
  return found == unit_ends.end() ? nullptr : found;
}

/// gps_speed_km_h, velocity_mps. `exact`: nothing but "speed" and the unit.
CsvRole speed_role(std::string_view plain, bool exact) {
  const Known* unit = unit_end(plain);
  if (unit == nullptr) {
    return CsvRole::channel;
  }
  const std::string_view before = plain.substr(0, plain.size() - unit->name.size());
  if (exact) {
    return before == "speed_" ? unit->role : CsvRole::channel;
  }
  const auto words = words_of(before);
  const bool speed =
      std::any_of(words.begin(), words.end(), [](auto word) { return is_one_of(word, speed_words); });
  const bool plainly = std::all_of(words.begin(), words.end(), [](auto word) {
    return is_one_of(word, speed_words) || is_one_of(word, receiver_words);
  });
  return speed && plainly ? unit->role : CsvRole::channel;
}

/// A letter of Latin-1 or a ligature by its letters without accent; empty if it is none.
std::string_view without_accent(unsigned c) {
  constexpr std::array<std::string_view, 32> from_c0 = {
      "a", "a", "a", "a", "ae", "a", "ae", "c", "e", "e", "e", "e", "i",  "i", "i", "i",
      "d", "n", "o", "o", "o",  "o", "oe", "",  "o", "u", "u", "u", "ue", "y", "",  "ss"};
  if (c == 0xB5) {
    return "u";  // the micro sign
  }
  if (c == 0x152 || c == 0x153) {
    return "oe";
  }
  return c >= 0xC0 && c <= 0xFF ? from_c0[(c - 0xC0) % 32] : std::string_view{};
}

/// The character at the front, taken off: of UTF-8 what is one of two bytes, 0 for longer ones, else a byte
/// as Latin-1 has it.
unsigned take_character(std::string_view& text) {
  const auto follows = [=](std::size_t at) {
    return at < text.size() && (static_cast<unsigned char>(text[at]) & 0xC0U) == 0x80;
  };
  const auto first = static_cast<unsigned char>(text.front());
  unsigned c = first;
  std::size_t size = 1;
  if (first >= 0xC2 && first <= 0xDF && follows(1)) {
    c = ((first & 0x1FU) << 6U) | (static_cast<unsigned char>(text[1]) & 0x3FU);
    size = 2;
  } else if (first >= 0xE0 && follows(1) && follows(2)) {
    c = 0;
    size = first >= 0xF0 && follows(3) ? 4 : 3;
  }
  text.remove_prefix(size);
  return c;
}

}  // namespace

std::string plain_name(std::string_view name) {
  std::string plain;
  while (!name.empty()) {
    const unsigned c = take_character(name);
    if ((c >= 'a' && c <= 'z') || (c >= '0' && c <= '9')) {
      plain += static_cast<char>(c);
    } else if (c >= 'A' && c <= 'Z') {
      plain += static_cast<char>(c - 'A' + 'a');
    } else if (const std::string_view letters = without_accent(c); !letters.empty()) {
      plain += letters;
    } else if (!plain.empty() && plain.back() != '_') {
      plain += '_';
    }
  }
  while (!plain.empty() && plain.back() == '_') {
    plain.pop_back();
  }
  return plain;
}

CsvRole csv_role(std::string_view plain, Naming naming) {
  if (naming == Naming::speed) {
    return speed_role(plain, false);
  }
  for (const Named& row : named()) {
    if (row.naming == naming && is_named(plain, row)) {
      return row.role;
    }
  }
  if (is_time_name(plain, naming)) {
    return CsvRole::time;
  }
  return naming == Naming::exact ? speed_role(plain, true) : CsvRole::channel;
}

CsvRole csv_role(std::string_view plain) {
  for (const Naming naming : namings) {
    if (const CsvRole role = csv_role(plain, naming); role != CsvRole::channel) {
      return role;
    }
  }
  return CsvRole::channel;
}

bool is_speed(CsvRole role) {
  return role == CsvRole::speed_mps || role == CsvRole::speed_kmh || role == CsvRole::speed_mph ||
         role == CsvRole::speed_kn;
}

double as_mps(CsvRole role, double value) {
  switch (role) {
    case CsvRole::speed_kmh:
      return Speed::from_kmh(value).mps();
    case CsvRole::speed_mph:
      return Speed::from_mph(value).mps();
    case CsvRole::speed_kn:
      return Speed::from_knots(value).mps();
    default:
      return value;
  }
}

bool sounds_like_speed(std::string_view plain) {
  const auto words = words_of(plain);
  if (std::any_of(words.begin(), words.end(), [](auto word) { return is_one_of(word, other_words); })) {
    return false;
  }
  return std::any_of(std::begin(speed_words), std::end(speed_words),
                     [=](auto word) { return plain.find(word) != std::string_view::npos; }) ||
         unit_end(plain) != nullptr;
}

}  // namespace bothways
