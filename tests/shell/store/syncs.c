/* Loaded before the C library: writes down every write to a file and every sync, in order, so that a test can tell
   whether what was acknowledged had reached the disk. Names of files only; nothing that is written changes. */
#define _GNU_SOURCE
#include <dlfcn.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/types.h>
#include <fcntl.h>
#include <unistd.h>

static int book = -1;

__attribute__((constructor)) static void begin(void) {
    const char *path = getenv("SYNCS_BOOK");
    if (path) book = open(path, O_WRONLY | O_APPEND | O_CREAT, 0644);
}

static void note(const char *what, int file) {
    static ssize_t (*real_write)(int, const void *, size_t);
    char link[64], path[512], line[600];
    if (book < 0 || file == book) return;
    if (!real_write) real_write = dlsym(RTLD_NEXT, "write");
    snprintf(link, sizeof link, "/proc/self/fd/%d", file);
    ssize_t length = readlink(link, path, sizeof path - 1);
    if (length <= 0 || path[0] != '/') return;
    path[length] = 0;
    int size = snprintf(line, sizeof line, "%s %s\n", what, path);
    if (real_write(book, line, (size_t)size) != size) abort();
}

int fsync(int file) {
    int (*real)(int) = dlsym(RTLD_NEXT, "fsync");
    int result = real(file);
    note("sync", file);
    return result;
}

int fdatasync(int file) {
    int (*real)(int) = dlsym(RTLD_NEXT, "fdatasync");
    int result = real(file);
    note("sync", file);
    return result;
}

ssize_t pwrite64(int file, const void *bytes, size_t size, off64_t offset) {
    ssize_t (*real)(int, const void *, size_t, off64_t) = dlsym(RTLD_NEXT, "pwrite64");
    note("write", file);
    return real(file, bytes, size, offset);
}

ssize_t pwrite(int file, const void *bytes, size_t size, off_t offset) {
    ssize_t (*real)(int, const void *, size_t, off_t) = dlsym(RTLD_NEXT, "pwrite");
    note("write", file);
    return real(file, bytes, size, offset);
}

ssize_t write(int file, const void *bytes, size_t size) {
    ssize_t (*real)(int, const void *, size_t) = dlsym(RTLD_NEXT, "write");
    note("write", file);
    return real(file, bytes, size);
}
