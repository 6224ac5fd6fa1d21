#pragma once

#include <memory>
#include <string>
#include <string_view>

typedef struct evp_md_ctx_st EVP_MD_CTX;  // NOLINT(modernize-use-using): as OpenSSL names it

namespace panup {

/// SHA-256 (FIPS 180-4) over all bytes added.
class Sha256 {
 public:
  Sha256();

  void add(std::string_view bytes);
  /// The digest, 32 bytes. Nothing may be added afterwards.
  std::string result();

 private:
  struct Free {
    void operator()(EVP_MD_CTX* context) const;
  };
  std::unique_ptr<EVP_MD_CTX, Free> context_;
};

/// The digest of a text in 64 small hexadecimal digits, as `sha256sum` prints it.
std::string sha256_hex(std::string_view bytes);

}  // namespace panup
