#include "base/file.hpp"

#include <fcntl.h>
#include <openssl/evp.h>
#include <unistd.h>

#include <array>
#include <cerrno>
#include <cstdio>
#include <cstring>

namespace lanyard::base {

namespace fs = std::filesystem;

namespace {

// Closes what it holds; a descriptor that is -1 holds nothing.
class Descriptor {
 public:
    explicit Descriptor(int fd) : fd_(fd) {}
    Descriptor(const Descriptor&) = delete;
    Descriptor& operator=(const Descriptor&) = delete;
    ~Descriptor() { close(); }
    int get() const { return fd_; }
    bool close() {
        const bool fine = fd_ < 0 || ::close(fd_) == 0;
        fd_ = -1;
        return fine;
    }

 private:
    int fd_;
};

std::string error_text() { return std::strerror(errno); }

bool write_all(int fd, const std::string& content) {
    std::size_t done = 0;
    while (done < content.size()) {
        const ssize_t n = ::write(fd, content.data() + done, content.size() - done);
        if (n < 0 && errno == EINTR) continue;
        if (n < 0) return false;
        done += static_cast<std::size_t>(n);
    }
    return true;
}

// A new file in the same folder, under a name that nobody has: what an earlier run left behind when it was killed may
// have had the same process number.
int new_file_beside(const fs::path& target, fs::path& name) {
    int fd = -1;
    for (int n = 0; fd < 0 && n < 10'000; ++n) {
        name = target;
        name += ".tmp" + std::to_string(::getpid()) + "-" + std::to_string(n);
        fd = ::open(name.c_str(), O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC, 0666);
        if (fd < 0 && errno != EEXIST) break;
    }
    return fd;
}

// Pipes, terminals and the like cannot be replaced by a rename, and should not be.
std::string write_through(const fs::path& path, const std::string& content) {
    Descriptor out{::open(path.c_str(), O_WRONLY | O_CLOEXEC)};
    if (out.get() < 0) return error_text();
    if (!write_all(out.get(), content) || !out.close()) return error_text();
    return {};
}

}  // namespace

std::optional<std::string> read_file(const fs::path& path, std::size_t limit, bool* too_large) {
    if (too_large) *too_large = false;
    Descriptor in{::open(path.c_str(), O_RDONLY | O_CLOEXEC)};
    if (in.get() < 0) return std::nullopt;
    std::string content;
    std::array<char, 65536> piece{};
    for (;;) {
        const ssize_t n = ::read(in.get(), piece.data(), piece.size());
        if (n < 0 && errno == EINTR) continue;
        if (n < 0) return std::nullopt;
        if (n == 0) return content;
        content.append(piece.data(), static_cast<std::size_t>(n));
        if (content.size() > limit) {
            if (too_large) *too_large = true;
            return std::nullopt;
        }
    }
}

std::string write_file(const fs::path& path, const std::string& content) {
    std::error_code ignored;
    const fs::file_status status = fs::status(path, ignored);
    if (fs::exists(status) && !fs::is_regular_file(status)) {
        if (fs::is_directory(status)) return std::strerror(EISDIR);
        return write_through(path, content);
    }
    // A link stays a link: what it points to is replaced.
    fs::path target = path;
    if (fs::is_symlink(fs::symlink_status(path, ignored)) && fs::exists(status)) target = fs::canonical(path, ignored);
    fs::path temporary;
    Descriptor out{new_file_beside(target, temporary)};
    if (out.get() < 0) return error_text();
    std::string problem;
    if (!write_all(out.get(), content) || ::fsync(out.get()) != 0 || !out.close() ||
        ::rename(temporary.c_str(), target.c_str()) != 0) {
        problem = error_text();
        ::unlink(temporary.c_str());
    }
    return problem;
}

std::string sha256_hex(const std::string& content) {
    std::array<unsigned char, EVP_MAX_MD_SIZE> digest{};
    unsigned int size = 0;
    // Cannot fail with a digest that every build of the library has; an empty answer would be seen by any comparison.
    if (EVP_Digest(content.data(), content.size(), digest.data(), &size, EVP_sha256(), nullptr) != 1) return {};
    static constexpr char hex[] = "0123456789abcdef";
    std::string out;
    for (unsigned int i = 0; i < size; ++i) {
        out += hex[digest[i] >> 4U];
        out += hex[digest[i] & 0xFU];
    }
    return out;
}

}  // namespace lanyard::base
