// A plugin for clang-tidy: its matchers look at the project's own code, and not at that of the
// headers of libraries, of which it reports nothing anyway. They cost nine tenths of its time.
#include <string_view>
#include <vector>

#include "clang/AST/ASTConsumer.h"
#include "clang/AST/ASTContext.h"
#include "clang/Basic/SourceManager.h"
#include "clang/Frontend/CompilerInstance.h"
#include "clang/Frontend/FrontendPluginRegistry.h"

namespace {

class OwnCodeOnly : public clang::ASTConsumer {
 public:
  bool HandleTopLevelDecl(clang::DeclGroupRef group) override {
    for (clang::Decl* const declared : group) {
      const auto& sources = declared->getASTContext().getSourceManager();
      if (!sources.isInSystemHeader(declared->getLocation())) {
        own_.push_back(declared);
      }
    }
    return true;
  }

  void HandleTranslationUnit(clang::ASTContext& context) override {
    context.setTraversalScope(own_);
  }

 private:
  std::vector<clang::Decl*> own_;
};

class Action : public clang::PluginASTAction {
  std::unique_ptr<clang::ASTConsumer> CreateASTConsumer(clang::CompilerInstance& /*compiler*/,
                                                        llvm::StringRef /*file*/) override {
    return std::make_unique<OwnCodeOnly>();
  }
  bool ParseArgs(const clang::CompilerInstance& /*compiler*/,
                 const std::vector<std::string>& /*arguments*/) override {
    return true;
  }
  ActionType getActionType() override { return AddBeforeMainAction; }
};

const clang::FrontendPluginRegistry::Add<Action> added("own-code-only", "looks at own code only");

}  // namespace
