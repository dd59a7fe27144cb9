#include "lib/trade/read_kinds.hpp"

#include <algorithm>
#include <map>

#include "lib/build/json/fields.hpp"

#include <fmt/format.h>

namespace fettlefund::trade {
namespace {

using build::Context;
using build::Fields;
using build::KeyTable;
using build::Node;

constexpr bool required = true;

const KeyTable& goods_file_keys() {
  static const KeyTable table("goods_file", "the goods words", {{"goods", required}});
  return table;
}

const KeyTable& trade_file_keys() {
  static const KeyTable table("trade_file", "a trade", {{"trade", required}, {"kinds", required}});
  return table;
}

const KeyTable& good_keys() {
  static const KeyTable table("good", "a goods word",
                              {{"name", required}, {"unit", required}, {"why", required}, {"tool"}});
  return table;
}

const KeyTable& line_keys() {
  static const KeyTable table("line", "a line", {{"article", required}, {"amount", required}, {"why"}});
  return table;
}

const KeyTable& kind_keys() {
  static const KeyTable table("kind", "a kind of work",
                              {{"words", required},
                               {"also"},
                               {"comes_off", required},
                               {"forgotten", required},
                               {"spoilt", required},
                               {"none_because"},
                               {"tools", required},
                               {"second_person"},
                               {"hours", required},
                               {"checks", required},
                               {"cautions", required},
                               {"mind"}});
  return table;
}

const KeyTable& hours_keys() {
  static const KeyTable table("hours", "hours",
                              {{"low", required}, {"likely", required}, {"high", required}});
  return table;
}

struct Good {
  std::string name, unit, why;
  bool tool = false;
};

const auto read_lines = build::set_of(build::read_line);

Id hyphened(std::string name) {
  std::replace(name.begin(), name.end(), ' ', '-');
  return name;
}

class Reader {
 public:
  void file(std::string_view name, std::string_view text) {
    build::Findings findings{std::string(name), text};
    const Node root = build::parse_tree(text, findings);
    if (!findings.stopped()) {
      const build::Ids ids;
      Context context{findings, ids, {}};
      if (root.find("goods") != nullptr)
        goods(context, root);
      else
        trade(context, root);
    }
    for (build::Diagnostic& one : findings.told(root)) known_.diagnostics.push_back(std::move(one));
  }

  Knowledge take() {
    std::sort(known_.kinds.begin(), known_.kinds.end(),
              [](const Kind& a, const Kind& b) { return a.name < b.name; });
    return std::move(known_);
  }

 private:
  void goods(Context& context, const Node& root) {
    const Fields fields(context, root, goods_file_keys());
    const Node* list = fields.find("goods");
    if (list == nullptr || !build::expect_object(context, *list)) return;
    for (const build::Member& member : list->members) {
      if (!build::is_id(member.key)) context.findings.error(member.span, build::id_words());
      const Fields entry(context, member.value, good_keys());
      Good& good = goods_[member.key];
      entry.get("name", good.name, build::read_line);
      entry.get("unit", good.unit, build::read_line);
      entry.get("why", good.why, build::read_line);
      entry.get("tool", good.tool, build::read_flag);
    }
    std::vector<std::string> words;
    for (const auto& [word, good] : goods_) words.push_back(word);
    goods_words_ = text::Names(std::move(words));
  }

  void trade(Context& context, const Node& root) {
    const Fields fields(context, root, trade_file_keys());
    std::string trade;
    fields.get("trade", trade, build::OneOf{{"bicycle", "boat", "common", "motorcycle", "van"}});
    const Node* list = fields.find("kinds");
    if (list == nullptr || !build::expect_object(context, *list)) return;
    for (const build::Member& member : list->members) {
      Kind& kind = known_.kinds.emplace_back();
      kind.name = member.key;
      kind.trade = trade;
      check_name(context, member);
      this->kind(context, member.value, kind);
    }
  }

  void check_name(Context& context, const build::Member& member) {
    const bool plain = std::all_of(member.key.begin(), member.key.end(), [](char c) {
      return (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9') || c == ' ';
    });
    if (!plain || !build::is_id(hyphened(member.key)))
      context.findings.error(member.span, "a short name in small letters, digits and blanks");
    if (!names_.insert(member.key).second)
      context.findings.error(member.span, "a kind of work that no other file names");
  }

  void kind(Context& context, const Node& node, Kind& kind) {
    const Fields fields(context, node, kind_keys());
    fields.get("words", kind.words, read_lines);
    fields.get("also", kind.also, build::set_of(build::OneOf{{"bicycle", "boat", "motorcycle", "van"}}));
    fields.get("comes_off", kind.comes_off, read_lines);
    lines(fields, "forgotten", kind);
    lines(fields, "spoilt", kind);
    fields.get("none_because", kind.none_because, build::read_line);
    fields.get("tools", kind.tools, read_lines);
    fields.get("second_person", kind.second_person, build::read_line);
    if (const Node* hours = fields.find("hours")) this->hours(context, *hours, kind.hours);
    remarks(fields, "checks", "check", kind, kind.checks);
    fields.get("cautions", kind.cautions, read_lines);
    remarks(fields, "mind", "mind", kind, kind.mind);
    if (kind.lines.empty() == kind.none_because.empty())
      context.findings.missing(node.span, "either lines, or \"none_because\" to say why there are none");
  }

  void lines(const Fields& fields, std::string_view key, Kind& kind) {
    const Node* list = fields.find(key);
    if (list == nullptr || !build::expect_list(fields.context(), *list)) return;
    for (const Node& item : list->items) {
      Line& line = kind.lines.emplace_back();
      line.spoilt = key == "spoilt";
      this->line(fields.context(), item, kind, line);
    }
  }

  void line(Context& context, const Node& node, const Kind& kind, Line& line) {
    const Fields fields(context, node, line_keys());
    fields.get("article", line.article, build::read_id);
    fields.get("amount", line.amount, build::read_quantity);
    line.id = hyphened(kind.name) + "-" + line.article;
    if (!build::is_id(line.id))
      context.findings.error(node.span, "a kind and an article that make a short id");
    const auto found = goods_.find(line.article);
    if (found == goods_.end()) {
      context.findings.unknown(node.span, "a goods word of goods.json", line.article, goods_words_);
      return;
    }
    line.name = found->second.name;
    line.unit = found->second.unit;
    line.why = found->second.why;
    line.tool = found->second.tool;
    fields.get("why", line.why, build::read_line);
  }

  void hours(Context& context, const Node& node, Hours& hours) {
    const Fields fields(context, node, hours_keys());
    fields.get("low", hours.low, build::read_minutes);
    fields.get("likely", hours.likely, build::read_minutes);
    fields.get("high", hours.high, build::read_minutes);
    if (hours.low > hours.likely || hours.likely > hours.high)
      context.findings.error(node.span, "hours that rise from low to high");
  }

  void remarks(const Fields& fields, std::string_view key, std::string_view word, const Kind& kind,
               std::vector<Remark>& remarks) {
    std::vector<std::string> texts;
    fields.get(key, texts, read_lines);
    for (std::string& text : texts)
      remarks.push_back(
          {fmt::format("{}-{}-{}", hyphened(kind.name), word, remarks.size() + 1), std::move(text)});
  }

  Knowledge known_;
  std::map<std::string, Good> goods_;
  text::Names goods_words_;
  std::set<std::string> names_;
};

}  // namespace

Knowledge read_knowledge(const std::vector<std::pair<std::string_view, std::string_view>>& files) {
  Reader reader;
  for (const auto& [name, text] : files) reader.file(name, text);
  return reader.take();
}

}  // namespace fettlefund::trade
