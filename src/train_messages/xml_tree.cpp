#include "train_messages/xml_tree.h"

#include <expat.h>
#include <fmt/format.h>

#include <algorithm>
#include <memory>

#include "base/cell_values.h"

namespace panup {

namespace {

/// Between namespace and name; no namespace can have it in it.
constexpr char parting = '\n';

std::string_view trimmed(std::string_view text) {
  constexpr std::string_view spaces = " \t\r\n";
  const std::size_t first = text.find_first_not_of(spaces);
  return first == std::string_view::npos
             ? std::string_view()
             : text.substr(first, text.find_last_not_of(spaces) - first + 1);
}

class XmlReader {
 public:
  XmlReader(const SourceText& source, Diagnostics& mistakes)
      : source_(source), mistakes_(mistakes), parser_(XML_ParserCreateNS(nullptr, parting)) {
    XML_SetUserData(parser_.get(), this);
    XML_SetElementHandler(
        parser_.get(),
        [](void* self, const XML_Char* name, const XML_Char** /*attributes*/) {
          static_cast<XmlReader*>(self)->begin(name);
        },
        [](void* self, const XML_Char* /*name*/) { static_cast<XmlReader*>(self)->end(); });
    XML_SetCharacterDataHandler(parser_.get(), [](void* self, const XML_Char* text, int size) {
      static_cast<XmlReader*>(self)->add({text, static_cast<std::size_t>(size)});
    });
    XML_SetStartDoctypeDeclHandler(
        parser_.get(), [](void* self, const XML_Char* /*name*/, const XML_Char* /*system*/,
                          const XML_Char* /*open*/, int /*internal*/) {
          static_cast<XmlReader*>(self)->stop(
              "a document type stands here; a message has none, and its entities are not followed");
        });
  }

  std::optional<XmlTree> read() {
    const auto status = XML_Parse(parser_.get(), source_.text.data(),
                                  static_cast<int>(source_.text.size()), XML_TRUE);
    if (status == XML_STATUS_OK) {
      return std::move(tree_);
    }
    if (!stopped_) {
      report(words_for(XML_GetErrorCode(parser_.get())));
    }
    return std::nullopt;
  }

 private:
  int line() const { return static_cast<int>(XML_GetCurrentLineNumber(parser_.get())); }
  int column() const { return static_cast<int>(XML_GetCurrentColumnNumber(parser_.get())) + 1; }

  void report(std::string text) {
    mistakes_.push_back(
        {{.file = source_.file, .line = std::max(line(), 1), .column = column()}, std::move(text)});
  }

  /// Once: what has begun may come to its end yet.
  void stop(std::string why) {
    if (!stopped_) {
      stopped_ = true;
      report(std::move(why));
      XML_StopParser(parser_.get(), XML_FALSE);
    }
  }

  std::string words_for(XML_Error error) const {
    switch (error) {
      case XML_ERROR_NO_ELEMENTS:
      case XML_ERROR_UNCLOSED_TOKEN:
      case XML_ERROR_UNCLOSED_CDATA_SECTION:
      case XML_ERROR_PARTIAL_CHAR:
        return begun_ ? fmt::format("the file ends within the element '{}': it is cut off",
                                    open_.empty() ? tree_.root.name : open_.back()->name)
                      : "there is no XML element in this file";
      case XML_ERROR_UNKNOWN_ENCODING:
      case XML_ERROR_INCORRECT_ENCODING:
        return "the encoding that the file names cannot be read, or is not its own; expected UTF-8";
      case XML_ERROR_INVALID_TOKEN:
        return "this is not XML, or not in the encoding that the file names; without a name it is "
               "UTF-8";
      case XML_ERROR_UNDEFINED_ENTITY:
        return "an entity stands here that XML itself does not have; entities are not followed";
      case XML_ERROR_UNBOUND_PREFIX:
        return "the prefix of this name stands for no namespace";
      default:
        return fmt::format("this is not well-formed XML: {}", XML_ErrorString(error));
    }
  }

  void begin(std::string_view full_name) {
    if (stopped_) {
      return;
    }
    const std::size_t cut = full_name.find(parting);
    const std::string_view name_space =
        cut == std::string_view::npos ? std::string_view() : full_name.substr(0, cut);
    const std::string name =
        one_line_of(cut == std::string_view::npos ? full_name : full_name.substr(cut + 1));
    if (!begun_) {
      begun_ = true;
      tree_.name_space = one_line_of(name_space);
    }
    if (passed_over_ > 0 || one_line_of(name_space) != tree_.name_space) {
      ++passed_over_;
    }
    if (open_.size() + passed_over_ >= deepest_xml_element) {
      stop(fmt::format("elements lie deeper in each other than {}; no message does",
                       deepest_xml_element));
      return;
    }
    if (passed_over_ > 0) {
      return;
    }
    if (++elements_ > most_xml_elements) {
      stop(fmt::format("there are more than {} elements", most_xml_elements));
      return;
    }
    // Only the last child of an element is open: its siblings may move.
    XmlElement* const element =
        open_.empty() ? &tree_.root : &open_.back()->children.emplace_back();
    element->name = name;
    element->line = line();
    element->column = column();
    open_.push_back(element);
  }

  void end() {
    if (stopped_) {
      return;
    }
    if (passed_over_ > 0) {
      --passed_over_;
      return;
    }
    open_.back()->text = std::string(trimmed(open_.back()->text));
    open_.pop_back();
  }

  void add(std::string_view text) {
    if (!stopped_ && passed_over_ == 0 && !open_.empty()) {
      open_.back()->text += text;
    }
  }

  struct FreeParser {
    void operator()(XML_Parser parser) const { XML_ParserFree(parser); }
  };

  const SourceText& source_;
  Diagnostics& mistakes_;
  std::unique_ptr<XML_ParserStruct, FreeParser> parser_;
  XmlTree tree_;
  std::vector<XmlElement*> open_;
  std::size_t elements_ = 0;
  std::size_t passed_over_ = 0;  ///< open elements of other namespaces, and within them
  bool begun_ = false;
  bool stopped_ = false;
};

}  // namespace

const XmlElement* XmlElement::child(std::string_view wanted) const {
  const auto found = std::ranges::find(children, wanted, &XmlElement::name);
  return found == children.end() ? nullptr : &*found;
}

const XmlElement* XmlElement::at(std::initializer_list<std::string_view> way) const {
  const XmlElement* element = this;
  for (const std::string_view step : way) {
    element = element == nullptr ? nullptr : element->child(step);
  }
  return element;
}

std::optional<XmlTree> read_xml(const SourceText& source, Diagnostics& mistakes) {
  return XmlReader(source, mistakes).read();
}

}  // namespace panup
