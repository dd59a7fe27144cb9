#pragma once
#include <string>
#include <vector>

#include "lib/outcome/outcome.hpp"

/// What the picture shows, before anything has a place.
namespace fettlefund::report {

enum class BoxKind { job, must, fitted, left_out };

/// A job or a fitted thing.
struct Box {
  BoxKind kind = BoxKind::job;
  std::string name;
  std::string about;                   ///< a short line: want, hours
  std::vector<std::string> takes_off;  ///< fitted things that it takes off for good
  std::vector<int> clashes;            ///< numbers of the clashes it is part of, from 1
  std::vector<int> settles;            ///< numbers of the clashes that it makes fit
  int band = 0;                        ///< index into PictureModel::bands
};

/// Removals that the same jobs of a stage need.
struct Strip {
  std::string text;
  std::vector<int> boxes;  ///< indices into PictureModel::boxes, ascending
};

/// One row of the picture: a stage, what is on the machine, or what is left out.
struct Band {
  int stage = -1;                  ///< from 0; -1: none
  std::vector<std::string> label;  ///< lines at its left; the first is its title
  std::vector<int> boxes;          ///< ascending
  std::vector<Strip> strips;
  std::vector<std::string> remarks;  ///< sentences under the boxes
};

/// The job `from` must be done before `to`.
struct Arrow {
  int from = 0, to = 0;
};

struct PictureModel {
  std::string title, subtitle;
  std::vector<Box> boxes;
  std::vector<Band> bands;
  std::vector<Arrow> arrows;         ///< between boxes of stages, none that others in a row imply
  std::vector<std::string> clashes;  ///< what each number stands for
};

PictureModel picture_model(const planning::Outcome& outcome);

}  // namespace fettlefund::report
