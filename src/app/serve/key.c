/* A secret of 32 bytes in a file of our own; everything else is random or its keyed hash. */
#include "app/serve/key.h"

#include <errno.h>
#include <fcntl.h>
#include <string.h>
#include <sys/random.h>
#include <sys/stat.h>
#include <unistd.h>

enum { SECRET_BYTES = 32, KEY_BYTES = 18 }; /* 144 bits make 24 letters */

struct Key {
    guint8 secret[SECRET_BYTES];
    char *form_token, *lan, *boot;
};

static void
random_bytes(guint8 *bytes, size_t n)
{
    while (n > 0) {
        ssize_t got = getrandom(bytes, n, 0);
        if (got < 0) {
            g_assert(errno == EINTR);
            continue;
        }
        bytes += got;
        n -= (size_t) got;
    }
}

/* Fit for an address and a cookie. */
static char *
letters(const guint8 *bytes, size_t n)
{
    char *text = g_base64_encode(bytes, n);
    for (char *c = text; *c != '\0'; c++)
        *c = *c == '+' ? '-' : *c == '/' ? '_' : *c == '=' ? '\0' : *c;
    return text;
}

static bool
read_secret(const char *path, guint8 secret[static SECRET_BYTES])
{
    int file = open(path, O_RDONLY | O_NOFOLLOW | O_CLOEXEC | O_NONBLOCK);
    if (file < 0)
        return false;
    struct stat what;
    bool good = fstat(file, &what) == 0 && S_ISREG(what.st_mode) && what.st_uid == geteuid() &&
                (what.st_mode & 077) == 0 && what.st_size == SECRET_BYTES &&
                read(file, secret, SECRET_BYTES) == SECRET_BYTES;
    close(file);
    return good;
}

static void
keep_secret(const char *path, const guint8 secret[static SECRET_BYTES])
{
    g_file_set_contents_full(path, (const char *) secret, SECRET_BYTES,
                             G_FILE_SET_CONTENTS_CONSISTENT, 0600, NULL);
}

static void
find_secret(const char *folder, guint8 secret[static SECRET_BYTES])
{
    g_autofree char *path = folder != NULL ? g_build_filename(folder, "secret", NULL) : NULL;
    if (path != NULL && read_secret(path, secret))
        return;
    random_bytes(secret, SECRET_BYTES);
    if (path == NULL || g_mkdir_with_parents(folder, 0700) != 0)
        return;
    unlink(path); /* others could read it, or it is none */
    keep_secret(path, secret);
}

static char *
token_for(const guint8 secret[static SECRET_BYTES], const char *use)
{
    guint8 digest[32];
    gsize n = sizeof digest;
    GHmac *hmac = g_hmac_new(G_CHECKSUM_SHA256, secret, SECRET_BYTES);
    g_hmac_update(hmac, (const guchar *) use, (gssize) strlen(use));
    g_hmac_get_digest(hmac, digest, &n);
    g_hmac_unref(hmac);
    return letters(digest, KEY_BYTES);
}

Key *
key_new(const char *folder)
{
    Key *key = g_new0(Key, 1);
    guint8 bytes[KEY_BYTES];
    find_secret(folder, key->secret);
    key->form_token = token_for(key->secret, "form");
    random_bytes(bytes, sizeof bytes);
    key->lan = letters(bytes, sizeof bytes);
    random_bytes(bytes, 4);
    key->boot = g_strdup_printf("%02x%02x%02x%02x", bytes[0], bytes[1], bytes[2], bytes[3]);
    return key;
}

void
key_free(Key *key)
{
    if (key == NULL)
        return;
    g_free(key->form_token);
    g_free(key->lan);
    g_free(key->boot);
    g_free(key);
}

const char *
key_form_token(const Key *key)
{
    return key->form_token;
}

const char *
key_lan(const Key *key)
{
    return key->lan;
}

const char *
key_boot(const Key *key)
{
    return key->boot;
}

bool
key_same(const char *secret, const char *given)
{
    if (given == NULL)
        return false;
    size_t n = strlen(secret), m = strlen(given);
    volatile unsigned char differs = n != m;
    for (size_t i = 0; i < n; i++)
        differs |= (unsigned char) (secret[i] ^ given[m == 0 ? 0 : i % m]);
    return differs == 0;
}
