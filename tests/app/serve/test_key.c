/* What only the server knows: a secret that stays, keys that do not, comparisons that tell nothing. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

#include <cmocka.h>
#include <glib/gstdio.h>
#include <unistd.h>

#include "app/serve/key.h"

static char *folder;

static int
make_folder(void **state G_GNUC_UNUSED)
{
    folder = g_dir_make_tmp("careen-key-XXXXXX", NULL);
    return folder == NULL;
}

static int
remove_folder(void **state G_GNUC_UNUSED)
{
    g_autofree char *secret = g_build_filename(folder, "secret", NULL);
    unlink(secret);
    rmdir(folder);
    g_clear_pointer(&folder, g_free);
    return 0;
}

static void
only_the_same_is_the_same(void **state G_GNUC_UNUSED)
{
    assert_true(key_same("abc", "abc"));
    static const char *const others[] = {"", "a", "ab", "abd", "bbc", "abcd", "abcabc", "ABC"};
    for (size_t i = 0; i < G_N_ELEMENTS(others); i++)
        assert_false(key_same("abc", others[i]));
    assert_false(key_same("abc", NULL));
    assert_false(key_same("aaa", "a"));
}

static void
keys_are_long_and_plain(void **state G_GNUC_UNUSED)
{
    Key *key = key_new(NULL);
    const char *const plain = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-_";
    assert_int_equal(strlen(key_lan(key)), 24); /* 6 bits a letter */
    assert_int_equal(strspn(key_lan(key), plain), 24);
    assert_int_equal(strlen(key_form_token(key)), 24);
    assert_int_equal(strspn(key_form_token(key), plain), 24);
    assert_string_not_equal(key_lan(key), key_form_token(key));
    key_free(key);
}

static void
form_token_stays_and_the_rest_does_not(void **state G_GNUC_UNUSED)
{
    Key *one = key_new(folder), *two = key_new(folder), *elsewhere = key_new(NULL);
    assert_string_equal(key_form_token(one), key_form_token(two));
    assert_string_not_equal(key_form_token(one), key_form_token(elsewhere));
    assert_string_not_equal(key_lan(one), key_lan(two));
    assert_string_not_equal(key_boot(one), key_boot(two));
    key_free(one);
    key_free(two);
    key_free(elsewhere);
}

/* Whatever lies there that is no secret of ours is replaced, and a link is not followed. */
static void
spoilt_secret_is_replaced(void **state G_GNUC_UNUSED)
{
    g_autofree char *path = g_build_filename(folder, "secret", NULL);
    g_autofree char *other = g_build_filename(folder, "other", NULL);
    for (int way = 0; way < 4; way++) {
        Key *before = key_new(folder);
        g_autofree char *token = g_strdup(key_form_token(before));
        key_free(before);
        if (way == 0) {
            assert_int_equal(g_chmod(path, 0640), 0);
        } else if (way == 1) {
            assert_true(g_file_set_contents(path, "short", 5, NULL));
            assert_int_equal(g_chmod(path, 0600), 0);
        } else if (way == 2) {
            assert_int_equal(g_rename(path, other), 0);
            assert_int_equal(symlink(other, path), 0);
        } else {
            assert_int_equal(truncate(path, 0), 0);
        }
        Key *after = key_new(folder), *again = key_new(folder);
        GStatBuf what;
        assert_string_not_equal(key_form_token(after), token);
        assert_string_equal(key_form_token(after), key_form_token(again));
        assert_int_equal(g_lstat(path, &what), 0);
        assert_int_equal(what.st_mode & 07777, 0600);
        assert_true(S_ISREG(what.st_mode));
        key_free(after);
        key_free(again);
    }
    unlink(other);
}

int
main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(only_the_same_is_the_same), cmocka_unit_test(keys_are_long_and_plain),
        cmocka_unit_test_setup_teardown(form_token_stays_and_the_rest_does_not, make_folder,
                                        remove_folder),
        cmocka_unit_test_setup_teardown(spoilt_secret_is_replaced, make_folder, remove_folder)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
