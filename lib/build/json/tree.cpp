#include "lib/build/json/tree.hpp"

#include <algorithm>
#include <limits>

#include "lib/build/json/mend.hpp"
#include "lib/build/read/findings.hpp"
#include "lib/build/read/read.hpp"

#include <fmt/format.h>
#include <nlohmann/json.hpp>

namespace fettlefund::build {
namespace {

/// No amount, date or size that a build needs takes more characters.
constexpr std::size_t longest_number = 30;

/// Whether a broken token is neither text nor comment.
bool is_bare_word(char first) { return first != '"' && first != '/'; }

/// Receives the library's events in step with our own tokens: each event belongs to the next token that is
/// neither comma nor colon.
class TreeBuilder final : public nlohmann::json_sax<nlohmann::json> {
 public:
  TreeBuilder(std::string_view text, std::string_view written, Findings& findings)
      : text_(text), findings_(findings), tokens_(text, written) {}

  /// Where the text broke off; nothing where it did not, or not for its syntax.
  const std::optional<Break>& broken() const { return broken_; }
  bool refused() const { return refused_; }

  Node finish();

  bool null() override { return add(NodeKind::nothing) != nullptr; }
  bool boolean(bool value) override;
  bool number_integer(number_integer_t) override { return add_number(); }
  bool number_unsigned(number_unsigned_t) override { return add_number(); }
  bool number_float(number_float_t, const string_t&) override { return add_number(); }
  bool string(string_t& value) override;
  bool binary(binary_t&) override { return false; }
  bool start_object(std::size_t) override { return open(NodeKind::object); }
  bool key(string_t& value) override;
  bool end_object() override;
  bool start_array(std::size_t) override { return open(NodeKind::list); }
  bool end_array() override { return close(); }
  bool parse_error(std::size_t position, const std::string&, const nlohmann::json::exception&) override;

 private:
  void advance();
  void advance_to_event();
  Node* add(NodeKind kind);
  bool add_number();
  bool open(NodeKind kind);
  bool close();
  bool refuse(std::string expected);
  bool refuse_broken(bool is_key);
  void check_duplicates(std::vector<Member>& members);
  std::string expected_here() const;
  bool wants_value() const;
  bool in_object() const { return !open_.empty() && open_.back()->kind == NodeKind::object; }

  std::string_view text_;
  Findings& findings_;
  Tokens tokens_;
  Token current_;                        ///< the last one read
  Token last_, before_last_;             ///< the two before it
  TokenKind previous_ = TokenKind::end;  ///< the kind before it; `end` at the start
  bool after_key_ = false;               ///< the previous token is a key
  bool current_is_key_ = false;
  Node root_;
  bool has_root_ = false;
  std::vector<Node*> open_;  ///< stay valid: the list that holds an open value does not grow
  std::size_t values_ = 0;
  bool refused_ = false;
  std::optional<Break> broken_;
};

void TreeBuilder::advance() {
  previous_ = current_.kind;
  before_last_ = last_;
  last_ = current_;
  after_key_ = current_is_key_;
  current_is_key_ = false;
  current_ = tokens_.next();
}

void TreeBuilder::advance_to_event() {
  do advance();
  while (current_.kind == TokenKind::comma || current_.kind == TokenKind::colon);
}

bool TreeBuilder::refuse(std::string expected) {
  findings_.error(current_.span, std::move(expected));
  refused_ = true;
  return false;
}

/// Places a new value where the next token stands. Null if there are too many.
Node* TreeBuilder::add(NodeKind kind) {
  advance_to_event();
  if (++values_ > max_values) {
    refuse(fmt::format("at most {} values in one build file", max_values));
    return nullptr;
  }
  Node* node = &root_;
  if (in_object())
    node = &open_.back()->members.back().value;
  else if (!open_.empty())
    node = &open_.back()->items.emplace_back();
  has_root_ = true;
  node->kind = kind;
  node->span = current_.span;
  return node;
}

bool TreeBuilder::boolean(bool value) {
  Node* node = add(NodeKind::truth);
  if (node != nullptr) node->truth = value;
  return node != nullptr;
}

bool TreeBuilder::add_number() {
  Node* node = add(NodeKind::number);
  if (node == nullptr) return false;
  const Span& span = node->span;
  if (span.end - span.begin > longest_number)
    return refuse(fmt::format("a number of at most {} characters", longest_number));
  node->text = text_.substr(span.begin, span.end - span.begin);
  return true;
}

bool TreeBuilder::string(string_t& value) {
  Node* node = add(NodeKind::text);
  if (node != nullptr) node->text = std::move(value);
  return node != nullptr;
}

bool TreeBuilder::key(string_t& value) {
  advance_to_event();
  current_is_key_ = true;
  Node& value_to_come = open_.back()->members.emplace_back(Member{std::move(value), current_.span, {}}).value;
  value_to_come.span = current_.span;
  return true;
}

bool TreeBuilder::open(NodeKind kind) {
  Node* node = add(kind);
  if (node == nullptr) return false;
  if (open_.size() == max_depth)
    return refuse(fmt::format("at most {} brackets inside each other", max_depth));
  open_.push_back(node);
  return true;
}

bool TreeBuilder::close() {
  advance_to_event();
  open_.back()->span.end = current_.span.end;
  open_.pop_back();
  return true;
}

bool TreeBuilder::end_object() {
  check_duplicates(open_.back()->members);
  return close();
}

/// Reports keys that stand twice, and keeps the first of them.
void TreeBuilder::check_duplicates(std::vector<Member>& members) {
  std::vector<const Member*> sorted;
  for (const Member& member : members) sorted.push_back(&member);
  std::stable_sort(sorted.begin(), sorted.end(),
                   [](const Member* a, const Member* b) { return a->key < b->key; });
  std::vector<std::uint32_t> repeated;
  const Member* first = nullptr;
  for (const Member* member : sorted) {
    if (first == nullptr || first->key != member->key) {
      first = member;
      continue;
    }
    repeated.push_back(member->span.begin);
    const Place& place = first->span.place;
    findings_.error(member->span,
                    fmt::format("each key once, and this one already stands in line {}, column {}",
                                place.line, place.column));
  }
  if (repeated.empty()) return;
  std::sort(repeated.begin(), repeated.end());
  std::erase_if(members, [&](const Member& member) {
    return std::binary_search(repeated.begin(), repeated.end(), member.span.begin);
  });
}

bool TreeBuilder::wants_value() const {
  if (previous_ == TokenKind::colon || previous_ == TokenKind::open_list) return true;
  if (open_.empty()) return !has_root_;
  return previous_ == TokenKind::comma;
}

/// What could stand in the place of the current token, in words.
std::string TreeBuilder::expected_here() const {
  if (open_.empty()) return has_root_ ? "nothing after the end of the build" : "the build: an object in { }";
  if (after_key_) return "a colon after the key";
  if (previous_ == TokenKind::colon) return "a value after the colon";
  const std::string bracket = in_object() ? "}" : "]";
  if (previous_ == TokenKind::open_object) return "a key in double quotes, or }";
  if (previous_ == TokenKind::open_list) return "a value, or ]";
  if (previous_ != TokenKind::comma) return "a comma or " + bracket;
  const std::string next = in_object() ? "another key in double quotes" : "another value";
  return current_.kind == TokenKind::close_object || current_.kind == TokenKind::close_list
             ? next + ", or no comma before " + bracket
             : next;
}

/// A misspelt true, false or null is told so; another bare word where a key belongs, that.
bool TreeBuilder::refuse_broken(bool is_key) {
  const Span& span = current_.span;
  if (is_key && is_bare_word(text_[span.begin])) return refuse(expected_here());
  static const text::Names words({"true", "false", "null"});
  findings_.error(span, std::string(current_.flaw),
                  text::nearest_name(text_.substr(span.begin, span.end - span.begin), words));
  refused_ = true;
  return false;
}

/// `position` counts the bytes that the library has read. The culprit is the first token that is none, or
/// else the one that holds the last byte read.
bool TreeBuilder::parse_error(std::size_t position, const std::string&, const nlohmann::json::exception&) {
  if (position == 0) position = 1;
  do {
    Tokens ahead = tokens_;
    const Token next = ahead.next();
    if (next.span.begin >= position || current_.kind == TokenKind::broken) break;
    advance();
  } while (current_.kind != TokenKind::end);
  const bool fits = wants_value();
  const bool is_key = in_object() && (previous_ == TokenKind::comma || previous_ == TokenKind::open_object);
  if (!open_.empty() || !has_root_)
    broken_ = Break{before_last_, last_, current_, in_object(), fits && !is_key, is_key, after_key_};
  if (const auto figures = broken_ ? decimal_comma(*broken_) : std::nullopt) {
    findings_.error(*figures, "a point as decimal mark, as in 74.50");
    refused_ = true;
    return false;
  }
  if (current_.kind == TokenKind::number && fits && !is_key) return refuse("a number that is not so large");
  if (current_.kind == TokenKind::broken) return refuse_broken(is_key);
  if (current_.kind == TokenKind::text && (fits || is_key))
    return refuse("text whose \\u escapes name characters; those from \\ud800 to \\udfff only in pairs");
  return refuse(expected_here());
}

/// Closes what a syntax error left open, so that places can be told. A key without a value yet has one that
/// begins at the key itself.
Node TreeBuilder::finish() {
  constexpr std::uint32_t far = std::numeric_limits<std::uint32_t>::max();
  if (in_object() && !open_.back()->members.empty()) {
    Member& last = open_.back()->members.back();
    if (last.value.span.begin == last.span.begin) last.value.span = {last.span.end, far, {}};
  }
  for (Node* node : open_) node->span.end = far;
  if (!refused_) {
    advance();
    if (current_.kind != TokenKind::end) refuse("nothing after the end of the build");
  }
  return std::move(root_);
}

}  // namespace

Node parse_tree(std::string_view text, Findings& findings) {
  constexpr int breaks_at_most = 10;
  constexpr std::size_t mended_at_most = 1u << 20;
  std::string mended(text.substr(0, text.size() > mended_at_most ? 0 : text.size()));
  std::string_view readable = text;
  for (int breaks = 0;; ++breaks) {
    TreeBuilder builder(readable, text, findings);
    nlohmann::json::sax_parse(readable.begin(), readable.end(), &builder,
                              nlohmann::json::input_format_t::json, true, true);
    const std::optional<Break> broken = builder.broken();
    Node root = builder.finish();
    if (!broken || mended.empty() || breaks == breaks_at_most || !mend(mended, *broken)) {
      if (builder.refused()) findings.stop();
      return root;
    }
    findings.settle(broken->current.span.begin);
    if (broken->key && broken->current.kind == TokenKind::broken)
      findings.settle_key(broken->current.span.begin);
    if (decimal_comma(*broken)) findings.settle(broken->before.span.begin);
    readable = mended;
  }
}

}  // namespace fettlefund::build
