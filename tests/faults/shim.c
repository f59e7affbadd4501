/*
 * Stands between the program and the disk (LD_PRELOAD). It counts the calls that change something below FAULT_DIR, and
 * at the n-th of them kills the process, sends it SIGTERM, or lets the call fail; or in the middle of every so many of
 * them it copies the folder to FAULT_COPIES/n, which is what is there after `kill -9` at that call. What to do stands in
 * FAULT_CONTROL: six numbers and a text that the test writes while the
 * program runs; with the text it is the first call that has it, and not the n-th.
 *
 * With FAULT_STORE it also keeps what a power cut would leave: the content of each file as it was when it was last
 * flushed (f<inode>), the names in each folder as they were when the folder was last flushed (d<inode>).
 */
#define _GNU_SOURCE
#include <dirent.h>
#include <dlfcn.h>
#include <errno.h>
#include <fcntl.h>
#include <limits.h>
#include <pthread.h>
#include <signal.h>
#include <stdarg.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/mman.h>
#include <sys/stat.h>
#include <sys/syscall.h>
#include <sys/uio.h>
#include <unistd.h>

enum { OFF, COUNT, KILL, FAIL, TERM, COPY };
enum { GO = 0, DIE = -1, SNAP = -2 };
struct control { int32_t mode, at, error, sticky, count, fired; char first[64]; };

static struct control *control;
static const char *root, *store, *copies;
static size_t root_length;
static pthread_mutex_t turn = PTHREAD_MUTEX_INITIALIZER;
static FILE *trace;

#define REAL(type, name, ...) static type (*real)(__VA_ARGS__); if (!real) real = dlsym(RTLD_NEXT, #name)

__attribute__((constructor)) static void begin(void) {
  const char *path = getenv("FAULT_CONTROL");
  root = getenv("FAULT_DIR");
  store = getenv("FAULT_STORE");
  copies = getenv("FAULT_COPIES");
  if (!root || !path) return;
  root_length = strlen(root);
  int fd = syscall(SYS_openat, AT_FDCWD, path, O_RDWR);
  void *at = fd < 0 ? MAP_FAILED : mmap(0, sizeof(struct control), PROT_READ | PROT_WRITE, MAP_SHARED, fd, 0);
  if (at == MAP_FAILED) { fprintf(stderr, "FAULT_CONTROL cannot be read\n"); _exit(99); }
  control = at;
  if (getenv("FAULT_TRACE")) trace = fopen(getenv("FAULT_TRACE"), "ae");
}

static int is_inside(const char *path) {
  return root_length && !strncmp(path, root, root_length) && path[root_length] == '/';
}

/* What is to happen in the place of a call: GO on, DIE or SNAP in the middle of it, or an errno. */
static int step(const char *what, const char *path) {
  if (!control || control->mode == OFF || !is_inside(path)) return GO;
  int n = __atomic_add_fetch(&control->count, 1, __ATOMIC_SEQ_CST);
  if (trace) { fprintf(trace, "%d %s %s\n", n, what, path + root_length + 1); fflush(trace); }
  if (control->mode == COPY) return (n + control->sticky) % control->at ? GO : SNAP;
  if (control->first[0] && !control->at) {
    char call[PATH_MAX + 32];
    snprintf(call, sizeof call, "%s %s\n", what, path + root_length + 1);
    if (strstr(call, control->first)) control->at = n;
  }
  int is_now = control->at && (n == control->at || (control->sticky && n > control->at));
  if (control->mode == COUNT || !is_now) return GO;
  /* A full disk still lets go of what is on it. */
  if (control->mode == FAIL && control->error == ENOSPC && strchr("urt", what[0])  && strcmp(what, "rename")) return GO;
  __atomic_store_n(&control->fired, n, __ATOMIC_SEQ_CST);
  if (control->mode == TERM) { if (n == control->at) kill(getpid(), SIGTERM); return GO; }
  return control->mode == KILL ? DIE : control->error;
}

/* Empty where there is none. */
static void path_of(int fd, char *path) {
  char link[40];
  snprintf(link, sizeof link, "/proc/self/fd/%d", fd);
  ssize_t length = readlink(link, path, PATH_MAX - 1);
  path[length < 0 ? 0 : length] = 0;
}

static int step_fd(const char *what, int fd) {
  char path[PATH_MAX];
  if (!control || control->mode == OFF) return GO;
  path_of(fd, path);
  return step(what, path);
}

static void die(void) { for (;;) kill(getpid(), SIGKILL); }

static void copy_file(const char *from_path, const char *to_path) {
  char piece[65536]; size_t got;
  FILE *from = fopen(from_path, "re"), *to = fopen(to_path, "we");
  while (from && to && (got = fread(piece, 1, sizeof piece, from)) > 0) fwrite(piece, 1, got, to);
  if (from) fclose(from);
  if (to) fclose(to);
}

/* `names`: what lies where, with its inode, for the copy of the folder itself. */
static void copy_folder(const char *from, const char *to, FILE *names) {
  char from_path[PATH_MAX], to_path[PATH_MAX];
  DIR *folder = opendir(from); struct dirent *entry;
  syscall(SYS_mkdirat, AT_FDCWD, to, 0755);
  while (folder && (entry = readdir(folder))) {
    if (!strcmp(entry->d_name, ".") || !strcmp(entry->d_name, "..")) continue;
    snprintf(from_path, sizeof from_path, "%s/%s", from, entry->d_name);
    snprintf(to_path, sizeof to_path, "%s/%s", to, entry->d_name);
    int is_folder = entry->d_type == DT_DIR;
    if (names)
      fprintf(names, "%c %lu %s\n", is_folder ? 'd' : 'f', (unsigned long)entry->d_ino, from_path + root_length + 1);
    if (is_folder) copy_folder(from_path, to_path, names);
    else copy_file(from_path, to_path);
  }
  if (folder) closedir(folder);
}

static void snap(void) {
  char to[PATH_MAX];
  snprintf(to, sizeof to, "%s/%d", copies, control->count);
  syscall(SYS_mkdirat, AT_FDCWD, to, 0755);
  snprintf(to, sizeof to, "%s/%d/names", copies, control->count);
  FILE *names = fopen(to, "we");
  snprintf(to, sizeof to, "%s/%d/disk", copies, control->count);
  copy_folder(root, to, names);
  fclose(names);
  snprintf(to, sizeof to, "%s/%d/store", copies, control->count);
  copy_folder(store, to, 0);
}

/*
 * What writes elsewhere must not wait for its turn: Node writes to a pipe in the handler of a signal, and that may come
 * to the very thread whose turn it is.
 */
static int is_elsewhere(int fd) {
  char path[PATH_MAX];
  path_of(fd, path);
  return !is_inside(path);
}

/*
 * One call after the other, so that a copy is of one instant. A process dies in the middle of a write: half of it is
 * there. For a copy that half is undone again.
 */
#define INSTEAD(todo, half, undo, whole) do { \
    pthread_mutex_lock(&turn); \
    int what = todo; \
    if (what == DIE) { half; die(); } \
    if (what == SNAP) { half; snap(); undo; } \
    if (what > 0) { pthread_mutex_unlock(&turn); errno = what; return -1; } \
    __typeof__(whole) done = whole; \
    int error = errno; pthread_mutex_unlock(&turn); errno = error; \
    return done; \
  } while (0)

static void store_name(char *name, char kind, ino_t inode, const char *end) {
  snprintf(name, PATH_MAX, "%s/%c%lu%s", store, kind, (unsigned long)inode, end);
}
static void forget(char kind, const char *path) {
  char name[PATH_MAX]; struct stat found;
  if (!store || !is_inside(path) || stat(path, &found)) return;
  store_name(name, kind, found.st_ino, "");
  syscall(SYS_unlinkat, AT_FDCWD, name, 0);
}

/* The file or the folder has reached the disk. */
static int keep(int fd, int failed) {
  char link[40], path[PATH_MAX], name[PATH_MAX], ready[PATH_MAX]; struct stat found;
  if (failed || !store || fstat(fd, &found)) return failed;
  snprintf(link, sizeof link, "/proc/self/fd/%d", fd);
  ssize_t length = readlink(link, path, sizeof path - 1);
  path[length < 0 ? 0 : length] = 0;
  if (strcmp(path, root) && !is_inside(path)) return failed;
  int is_folder = S_ISDIR(found.st_mode);
  store_name(name, is_folder ? 'd' : 'f', found.st_ino, "");
  store_name(ready, is_folder ? 'd' : 'f', found.st_ino, ".new");
  if (is_folder) {
    FILE *to = fopen(ready, "we");
    DIR *folder = opendir(path); struct dirent *entry;
    while (folder && (entry = readdir(folder)))
      if (strcmp(entry->d_name, ".") && strcmp(entry->d_name, ".."))
        fprintf(to, "%c %lu %s\n", entry->d_type == DT_DIR ? 'd' : 'f', (unsigned long)entry->d_ino, entry->d_name);
    if (folder) closedir(folder);
    fclose(to);
  } else copy_file(link, ready);
  syscall(SYS_renameat, AT_FDCWD, ready, AT_FDCWD, name);
  return failed;
}

ssize_t write(int fd, const void *from, size_t count) {
  REAL(ssize_t, write, int, const void *, size_t);
  if (is_elsewhere(fd)) return real(fd, from, count);
  INSTEAD(step_fd("write", fd), ssize_t part = real(fd, from, count / 2), lseek(fd, -part, SEEK_CUR),
          real(fd, from, count));
}
ssize_t writev(int fd, const struct iovec *from, int count) {
  REAL(ssize_t, writev, int, const struct iovec *, int);
  if (is_elsewhere(fd)) return real(fd, from, count);
  INSTEAD(step_fd("writev", fd), ssize_t part = real(fd, from, count / 2), lseek(fd, -part, SEEK_CUR),
          real(fd, from, count));
}
ssize_t pwrite64(int fd, const void *from, size_t count, off_t at) {
  REAL(ssize_t, pwrite64, int, const void *, size_t, off_t);
  INSTEAD(step_fd("pwrite", fd), real(fd, from, count / 2, at), , real(fd, from, count, at));
}
ssize_t pwritev64(int fd, const struct iovec *from, int count, off_t at) {
  REAL(ssize_t, pwritev64, int, const struct iovec *, int, off_t);
  INSTEAD(step_fd("pwritev", fd), real(fd, from, count / 2, at), , real(fd, from, count, at));
}
int fsync(int fd) {
  REAL(int, fsync, int);
  INSTEAD(step_fd("fsync", fd), , , keep(fd, real(fd)));
}
int fdatasync(int fd) {
  REAL(int, fdatasync, int);
  INSTEAD(step_fd("fdatasync", fd), , , keep(fd, real(fd)));
}
int ftruncate64(int fd, off_t length) {
  REAL(int, ftruncate64, int, off_t);
  INSTEAD(step_fd("truncate", fd), , , real(fd, length));
}
int rename(const char *from, const char *to) {
  REAL(int, rename, const char *, const char *);
  INSTEAD(step("rename", to), , , real(from, to));
}
int link(const char *from, const char *to) {
  REAL(int, link, const char *, const char *);
  INSTEAD(step("link", to), , , real(from, to));
}
int unlink(const char *path) {
  REAL(int, unlink, const char *);
  INSTEAD(step("unlink", path), , , real(path));
}
int rmdir(const char *path) {
  REAL(int, rmdir, const char *);
  INSTEAD(step("rmdir", path), , , real(path));
}
/* An inode may be that of something that is gone. */
static int fresh(int done, char kind, const char *path) {
  if (done >= 0) forget(kind, path);
  return done;
}
int mkdir(const char *path, mode_t mode) {
  REAL(int, mkdir, const char *, mode_t);
  INSTEAD(step("mkdir", path), , , fresh(real(path, mode), 'd', path));
}
int open64(const char *path, int flags, ...) {
  REAL(int, open64, const char *, int, ...);
  va_list rest; va_start(rest, flags);
  mode_t mode = flags & O_CREAT ? va_arg(rest, mode_t) : 0;
  va_end(rest);
  if (!is_inside(path)) return real(path, flags, mode);
  int is_new = (flags & O_CREAT) && syscall(SYS_faccessat, AT_FDCWD, path, F_OK, 0);
  if (is_new) INSTEAD(step("create", path), , , fresh(real(path, flags, mode), 'f', path));
  if (flags & O_TRUNC) INSTEAD(step("truncate", path), , , real(path, flags, mode));
  return real(path, flags, mode);
}
/* libuv copies whole files by it. */
long syscall(long number, ...) {
  static long (*real)(long, ...);
  if (!real) real = dlsym(RTLD_NEXT, "syscall");
  va_list rest; va_start(rest, number);
  long a = va_arg(rest, long), b = va_arg(rest, long), c = va_arg(rest, long), d = va_arg(rest, long),
       e = va_arg(rest, long), f = va_arg(rest, long);
  va_end(rest);
  if (number == SYS_copy_file_range) INSTEAD(step_fd("write", c), , , real(number, a, b, c, d, e, f));
  return real(number, a, b, c, d, e, f);
}
