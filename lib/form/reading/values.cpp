#include "lib/form/reading/values.hpp"

#include <algorithm>

#include "lib/build/json/values.hpp"
#include "lib/form/grid.hpp"
#include "lib/sheets/read_back/cell_reading.hpp"

#include <fmt/format.h>

namespace fettlefund::form {
namespace {

using sheets::StoredCell;

constexpr int finest = 6;  // decimals of ratios and lengths

class Reader {
 public:
  Reader(const Surroundings& around, const Column& column, const StoredCell& cell, At at)
      : around_(around), column_(column), cell_(cell), at_(at) {}

  Value read() const {
    switch (column_.type) {
      case Type::line:
      case Type::text:
        return as_text();
      case Type::word:
        return as_word();
      case Type::choice:
        return as_choice();
      case Type::tick:
        return as_tick();
      case Type::money:
        return as_money();
      case Type::day:
        return as_day();
      case Type::one:
        return as_one(words());
      case Type::one_or_word:
        return as_one_or_word();
      case Type::many:
        return as_many();
      case Type::words:
      case Type::lines:
        return as_words();
      case Type::reals:
        return as_reals();
      default:
        return as_number();
    }
  }

 private:
  Value wrong(std::string nearest = {}) const {
    std::string expected = wanted_words(column_, around_.currency);
    if (cell_.computed && cell_.kind == StoredCell::Kind::blank)
      expected +=
          "; the formula's result is not stored: open the workbook in a spreadsheet program and save it "
          "there";
    if (could_be_two()) expected += "; this could be two numbers";
    return {{}, std::move(expected), std::move(nearest)};
  }
  /// "1.234" and "1,234" where a number belongs: the mark may stand for either.
  bool could_be_two() const {
    const std::size_t mark = cell_.text.find_first_of(".,");
    const bool digits = cell_.text.find_first_not_of("0123456789.,") == std::string::npos;
    const bool figure = column_.type == Type::money || column_.type == Type::hours ||
                        column_.type == Type::amount || column_.type == Type::percent ||
                        column_.type == Type::real;
    return figure && digits && mark != std::string::npos && cell_.text.size() - mark == 4;
  }
  Value good(std::string token) const { return {Piece::scalar(std::move(token), at_), {}, {}}; }
  std::string words() const { return sheets::read_words(&cell_).value.value_or(""); }

  Value as_text() const {
    const auto text = sheets::read_words(&cell_);
    if (!text.value) return wrong();
    return good(quoted(*text.value));
  }

  Value as_word() const {
    const std::string text = words();
    const std::string word = build::is_id(text) ? text : word_of(text);
    return word.empty() ? wrong() : good(quoted(word));
  }

  Value as_choice() const {
    const std::vector<std::string> choices = split_words(column_.choices);
    const std::string text = words();
    for (const std::string& choice : choices)
      if (folded(choice) == folded(text)) return good(quoted(choice));
    return wrong(text::nearest_name(text, text::Names(choices)));
  }

  Value as_tick() const {
    if (cell_.kind == StoredCell::Kind::boolean) return good(cell_.number != 0 ? "true" : "false");
    return sheets::read_tick(&cell_).value.value_or(false) ? good("true") : wrong();
  }

  Value as_money() const {
    const auto text =
        sheets::read_decimal(&cell_, around_.currency.digits, std::string(around_.currency.code));
    if (!text.value) return wrong();
    const auto amount = budgets::read_money(*text.value, around_.currency).amount;
    const bool known = around_.currency.code.size() == 3;
    return good(amount && known ? budgets::write_money(*amount, around_.currency) : *text.value);
  }

  Value as_number() const {
    const int digits = column_.type == Type::whole    ? 0
                       : column_.type == Type::real   ? finest
                       : column_.type == Type::amount ? 3
                                                      : 2;
    const std::string unit = column_.type == Type::hours ? "h" : column_.type == Type::percent ? "%" : "";
    const auto text = sheets::read_decimal(&cell_, digits, unit);
    return text.value ? good(*text.value) : wrong();
  }

  Value as_day() const {
    const auto day = sheets::read_day(&cell_, around_.from_1904);
    return day.value ? good(quoted(budgets::write_date(*day.value))) : wrong();
  }

  const NameList& names() const {
    static const NameList none;
    const auto found = around_.names.find(column_.from);
    return found == around_.names.end() ? none : found->second;
  }

  Value as_one(const std::string& name) const {
    const std::string id = names().id_of(name);
    if (!id.empty()) return good(quoted(id));
    Value value = wrong(names().nearest(name));
    if (column_.type == Type::many) value.expected = fmt::format("a name of the sheet {}", column_.from);
    if (folded(name) != folded(words())) value.expected += fmt::format(" instead of '{}'", name);
    if (names().is_example(name)) {
      value.expected += "; the example row of that sheet counts only once it is changed";
      value.nearest.clear();
    }
    return value;
  }

  Value as_one_or_word() const {
    const std::string id = names().id_of(words());
    return id.empty() ? as_word() : good(quoted(id));
  }

  /// A part that is no name but holds commas may be several names.
  std::vector<std::string> parts_of(const std::string& part) const {
    if (!names().id_of(part).empty() || part.find(',') == std::string::npos) return {part};
    std::vector<std::string> parts = split_list(part, true);
    const bool all = std::all_of(parts.begin(), parts.end(),
                                 [&](const std::string& one) { return !names().id_of(one).empty(); });
    return all ? parts : std::vector<std::string>{part};
  }

  Value as_many() const {
    const std::string text = words();
    if (text.empty()) return wrong();
    if (const std::string id = names().id_of(text); !id.empty()) {
      Piece one = Piece::list(at_);
      one.items.push_back(Piece::text(id, at_));
      return {std::move(one), {}, {}};
    }
    Piece list = Piece::list(at_);
    for (const std::string& listed : split_list(text, false)) {
      for (const std::string& name : parts_of(listed)) {
        Value one = as_one(name);
        if (!one.piece) return one;
        list.items.push_back(std::move(*one.piece));
      }
    }
    return {std::move(list), {}, {}};
  }

  Value as_words() const {
    const std::string text = words();
    if (text.empty()) return wrong();
    Piece list = Piece::list(at_);
    for (const std::string& part : split_list(text, column_.type == Type::words))
      list.items.push_back(Piece::text(part, at_));
    return {std::move(list), {}, {}};
  }

  /// "2.8; 1.9" and "2,8; 1,9"; also a comma with a blank behind it.
  Value as_reals() const {
    Piece list = Piece::list(at_);
    std::vector<StoredCell> cells;
    if (cell_.kind == StoredCell::Kind::text) {
      std::string text = cell_.text;
      for (std::size_t at = text.find(", "); at != std::string::npos; at = text.find(", ", at))
        text[at] = ';';
      for (std::string& part : split_list(text, false)) {
        StoredCell one;
        one.kind = StoredCell::Kind::text;
        one.text = std::move(part);
        cells.push_back(std::move(one));
      }
    } else {
      cells.push_back(cell_);
    }
    for (const StoredCell& one : cells) {
      const auto number = sheets::read_decimal(&one, finest, "");
      if (!number.value) return wrong();
      list.items.push_back(Piece::scalar(*number.value, at_));
    }
    return {std::move(list), {}, {}};
  }

  const Surroundings& around_;
  const Column& column_;
  const StoredCell& cell_;
  At at_;
};

}  // namespace

Value read_value(const Surroundings& around, const Column& column, const StoredCell& cell, At at) {
  return Reader(around, column, cell, at).read();
}

std::string wanted_words(const Column& column, const budgets::Currency& currency) {
  const std::string code(currency.code);
  switch (column.type) {
    case Type::line:
    case Type::text:
      return "a text";
    case Type::word:
      return "a short word of letters and digits";
    case Type::choice:
      return fmt::format("one of '{}'", fmt::join(split_words(column.choices), "', '"));
    case Type::tick:
      return "an x or nothing";
    case Type::money:
      return code.size() == 3 ? fmt::format("an amount of {} like {}", code,
                                            budgets::write_money(budgets::Money::of_minor(12995), currency))
                              : "an amount of money";
    case Type::hours:
      return "decimal hours like 1.5";
    case Type::amount:
      return "an amount like 2 or 0.5";
    case Type::whole:
      return "a whole number";
    case Type::percent:
      return "a percentage like 5";
    case Type::real:
      return "a number";
    case Type::reals:
      return "numbers with semicolons between them";
    case Type::day:
      return "a day like 2027-03-05";
    case Type::one:
      return fmt::format("a name of the sheet {}", column.from);
    case Type::one_or_word:
      return fmt::format("a name of the sheet {}, or a word", column.from);
    case Type::many:
      return fmt::format("names of the sheet {} with semicolons between them", column.from);
    default:
      return "texts with semicolons between them";
  }
}

}  // namespace fettlefund::form
