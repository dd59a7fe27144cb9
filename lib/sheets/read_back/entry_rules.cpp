#include "lib/sheets/read_back/entry_rules.hpp"

#include <string>
#include <vector>

#include <fmt/format.h>
#include <xlsxwriter.h>

namespace fettlefund::sheets {

namespace {

void limit(lxw_data_validation& validation, const EntryRule& rule, char** ticks) {
  validation.validate = LXW_VALIDATION_TYPE_DECIMAL;
  validation.criteria = LXW_VALIDATION_CRITERIA_GREATER_THAN_OR_EQUAL_TO;
  if (rule.entry == Entry::tick) {
    validation.validate = LXW_VALIDATION_TYPE_LIST;
    validation.value_list = ticks;
  } else if (rule.entry == Entry::pick) {
    validation.validate = rule.words.empty() ? LXW_VALIDATION_TYPE_LIST_FORMULA : LXW_VALIDATION_TYPE_LIST;
  } else if (rule.entry == Entry::any_amount) {
    validation.value_number = -1e12;
  } else if (rule.entry == Entry::day) {
    validation.validate = LXW_VALIDATION_TYPE_DATE;
    validation.value_datetime = {2000, 1, 1, 0, 0, 0};
  } else if (rule.entry == Entry::packs) {
    validation.validate = LXW_VALIDATION_TYPE_INTEGER;
  } else if (rule.entry == Entry::stage) {
    validation.validate = LXW_VALIDATION_TYPE_INTEGER;
    validation.criteria = LXW_VALIDATION_CRITERIA_BETWEEN;
    validation.minimum_number = 1;
    validation.maximum_number = rule.most;
  }
}

std::string title_of(Entry entry) {
  switch (entry) {
    case Entry::tick:
      return "A tick";
    case Entry::packs:
      return "Packs";
    case Entry::hours:
      return "Hours";
    case Entry::stage:
      return "Stage";
    case Entry::day:
      return "A day";
    case Entry::pick:
      return "One of the list";
    default:
      return "An amount";
  }
}

std::string message_of(const EntryRule& rule) {
  switch (rule.entry) {
    case Entry::tick:
      return "Type x, or leave the cell empty.";
    case Entry::packs:
      return "Type a whole number of packs, 0 or more.";
    case Entry::hours:
      return "Type hours as a decimal number, 0 or more: 1.5 for an hour and a half.";
    case Entry::stage:
      return fmt::format("Type the number of a stage, 1 to {}.", rule.most);
    case Entry::day:
      return "Type a day as a date: 2027-03-05.";
    case Entry::pick:
      return "Pick one of the list, or leave the cell empty.";
    case Entry::any_amount:
      return "Type an amount as a plain number; less than nothing for money that came back.";
    default:
      return "Type an amount as a plain number, 0 or more.";
  }
}

}  // namespace

int add_entry_rule(lxw_worksheet* page, const EntryRule& rule) {
  lxw_data_validation validation{};
  std::string title = title_of(rule.entry), message = message_of(rule), x = "x";
  char* ticks[] = {x.data(), nullptr};
  limit(validation, rule, ticks);
  std::vector<std::string> words = rule.words;
  std::string source = rule.source;
  std::vector<char*> list;
  for (std::string& word : words) list.push_back(word.data());
  list.push_back(nullptr);
  if (rule.entry == Entry::pick && !words.empty()) validation.value_list = list.data();
  if (rule.entry == Entry::pick && words.empty()) validation.value_formula = source.data();
  validation.ignore_blank = validation.show_input = validation.show_error = validation.dropdown =
      LXW_VALIDATION_ON;
  if (rule.others) validation.show_error = LXW_VALIDATION_OFF;
  validation.error_title = title.data();
  validation.error_message = message.data();
  const Range& r = rule.range;
  return worksheet_data_validation_range(
      page, static_cast<lxw_row_t>(r.first_row), static_cast<lxw_col_t>(r.first_column),
      static_cast<lxw_row_t>(r.last_row), static_cast<lxw_col_t>(r.last_column), &validation);
}

}  // namespace fettlefund::sheets
