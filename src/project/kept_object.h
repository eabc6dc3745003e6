// SPDX-License-Identifier: MIT
// What a project file holds beyond what this version knows, kept so that saving loses nothing.
#pragma once

#include <memory>
#include <utility>

namespace potshadow {

// One object of the file as it was read, kept so that saving loses nothing. Values that are equal
// hold the same text.
class KeptObject {
 public:
  struct Content;  // of a JSON type, known to this part only
  KeptObject() = default;
  explicit KeptObject(std::shared_ptr<const Content> content) : content_(std::move(content)) {}
  const Content* content() const { return content_.get(); }
  friend bool operator==(const KeptObject& a, const KeptObject& b);

 private:
  std::shared_ptr<const Content> content_;
};

}  // namespace potshadow
