#include "base/file.hpp"

#include <unistd.h>

#include <catch2/catch.hpp>
#include <filesystem>

using namespace lanyard::base;
namespace fs = std::filesystem;

namespace {

class Folder {
 public:
    Folder() : path_(fs::temp_directory_path() / ("lanyard-file-test-" + std::to_string(::getpid()))) {
        fs::create_directory(path_);
    }
    ~Folder() { fs::remove_all(path_); }
    Folder(const Folder&) = delete;
    Folder& operator=(const Folder&) = delete;
    const fs::path& path() const { return path_; }

 private:
    fs::path path_;
};

std::size_t files_in(const fs::path& folder) {
    std::size_t n = 0;
    for (const auto& entry : fs::directory_iterator(folder)) n += entry.exists() ? 1 : 0;
    return n;
}

}  // namespace

TEST_CASE("what is written is read again, byte for byte") {
    const Folder folder;
    const fs::path file = folder.path() / "a.txt";
    std::string content(200000, 'x');
    content += std::string("\0\r\n\xFF", 4);
    CHECK(write_file(file, content).empty());
    CHECK(read_file(file, 1000000) == content);
    CHECK(write_file(file, "short").empty());
    CHECK(read_file(file, 1000000) == "short");
    CHECK(files_in(folder.path()) == 1);
}

TEST_CASE("the limit is a limit") {
    const Folder folder;
    const fs::path file = folder.path() / "a.txt";
    REQUIRE(write_file(file, "12345").empty());
    bool too_large = true;
    CHECK(read_file(file, 5, &too_large) == "12345");
    CHECK_FALSE(too_large);
    CHECK_FALSE(read_file(file, 4, &too_large));
    CHECK(too_large);
    CHECK_FALSE(read_file(folder.path() / "none", 4, &too_large));
    CHECK_FALSE(too_large);
}

TEST_CASE("folders and missing places are no files") {
    const Folder folder;
    CHECK_FALSE(read_file(folder.path(), 100));
    CHECK_FALSE(write_file(folder.path(), "x").empty());
    CHECK_FALSE(write_file(folder.path() / "none" / "a.txt", "x").empty());
    CHECK(files_in(folder.path()) == 0);
}

TEST_CASE("a link stays a link") {
    const Folder folder;
    const fs::path file = folder.path() / "a.txt", link = folder.path() / "b.txt";
    REQUIRE(write_file(file, "old").empty());
    fs::create_symlink(file, link);
    CHECK(write_file(link, "new").empty());
    CHECK(fs::is_symlink(link));
    CHECK(read_file(file, 100) == "new");
}

TEST_CASE("devices are written to, not replaced") {
    CHECK(write_file("/dev/null", "x").empty());
    CHECK(fs::is_character_file("/dev/null"));
}

// FIPS 180-4; the first two are the examples of the Secure Hash Standard, the last one is that of NIST's example
// values for messages of a million letters.
TEST_CASE("SHA-256") {
    CHECK(sha256_hex("") == "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855");
    CHECK(sha256_hex("abc") == "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad");
    CHECK(sha256_hex("abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq") ==
          "248d6a61d20638b8e5c026930c3e6039a33ce45964ff2167f6ecedd419db06c1");
    CHECK(sha256_hex(std::string(1000000, 'a')) == "cdc76e5c9914fb9281a1c7e284d73e67f1809a48a497200e046d39ccc7112cd0");
}
