#include "base/sha256.h"

#include <openssl/evp.h>

#include <stdexcept>

namespace panup {

namespace {

/// The library's digest is always there; memory may not be.
void check(bool right) {
  if (!right) {
    throw std::runtime_error("SHA-256 could not be computed");
  }
}

}  // namespace

Sha256::Sha256() : context_(EVP_MD_CTX_new()) {
  check(context_ != nullptr && EVP_DigestInit_ex(context_.get(), EVP_sha256(), nullptr) == 1);
}

void Sha256::add(std::string_view bytes) {
  check(EVP_DigestUpdate(context_.get(), bytes.data(), bytes.size()) == 1);
}

std::string Sha256::result() {
  std::string digest(32, '\0');
  unsigned size = 0;
  check(EVP_DigestFinal_ex(context_.get(), reinterpret_cast<unsigned char*>(digest.data()),
                           &size) == 1 &&
        size == digest.size());
  return digest;
}

void Sha256::Free::operator()(EVP_MD_CTX* context) const { EVP_MD_CTX_free(context); }

std::string sha256_hex(std::string_view bytes) {
  Sha256 digest;
  digest.add(bytes);
  constexpr std::string_view digits = "0123456789abcdef";
  std::string hex;
  for (const char c : digest.result()) {
    const auto byte = static_cast<unsigned char>(c);
    hex += digits[byte >> 4U];
    hex += digits[byte & 0xfU];
  }
  return hex;
}

}  // namespace panup
