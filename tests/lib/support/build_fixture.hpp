#pragma once
#include <initializer_list>
#include <string>
#include <utility>
#include <vector>

#include "lib/build/model.hpp"

/// Builds made by hand for tests. All names are invented.
namespace fettlefund::test {

using Words = std::vector<std::string>;

inline build::Step step(std::string text, std::string id = "", Words after = {}) {
  build::Step result;
  result.text = std::move(text);
  result.id = std::move(id);
  result.after = std::move(after);
  return result;
}

/// A build that grows entry by entry; each call returns the entry for further filling in. References hold
/// only until the next entry of the same kind. Places count up, as in a file with one entry a line.
class BuildMaker {
 public:
  BuildMaker() {
    build_.file = "test.build";
    build_.currency = {"EUR", 2};
  }

  build::Job& job(const std::string& id, Words removals = {}, Words after = {}) {
    build::Job& job = added(build_.jobs, id);
    job.removals = std::move(removals);
    job.after = std::move(after);
    job.want = 5;
    return job;
  }
  build::Removal& removal(const std::string& id, Words needs = {}) {
    build::Removal& removal = added(build_.removals, id);
    removal.needs = std::move(needs);
    return removal;
  }
  /// With one offer.
  build::Article& article(const std::string& id, build::ArticleKind kind = build::ArticleKind::consumable) {
    build::Article& article = added(build_.articles, id);
    article.kind = kind;
    article.offers.push_back({"shop", {}, 0, {}, {}});
    return article;
  }

  build::Build& build() { return build_; }

 private:
  template <typename Entry>
  Entry& added(std::vector<Entry>& list, const std::string& id) {
    Entry& entry = list.emplace_back();
    entry.id = id;
    entry.name.append("the ").append(id);
    entry.place = {++line_, 3};
    return entry;
  }

  build::Build build_;
  int line_ = 0;
};

/// All indices of a list.
template <typename List>
std::vector<int> all_of(const List& list) {
  std::vector<int> indices;
  for (std::size_t i = 0; i < list.size(); ++i) indices.push_back(static_cast<int>(i));
  return indices;
}

}  // namespace fettlefund::test
