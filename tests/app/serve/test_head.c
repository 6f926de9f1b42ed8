/* The head of a request. What is sound and what is not: RFC 9112, 3 (request line), 5.1 (no blank before the colon), 5.2 (no folded
 * line), 2.2 (a bare CR is no line end; LF alone may be taken for one, here it is not), 6 and
 * 11.2 (framing, and what smuggling is made of). */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

#include <cmocka.h>
#include <glib.h>

#include "app/serve/head.h"

static void
sound_heads_pass(void **state G_GNUC_UNUSED)
{
    static const char *const rows[] = {
        "GET / HTTP/1.1\r\n\r\n",
        "GET / HTTP/1.0\r\nHost: a\r\n\r\n",
        "POST /a?b=c%20d&e HTTP/1.1\r\nHost: [::1]:80\r\nContent-Length: 3\r\n\r\n",
        "GET http://a:1/ HTTP/1.1\r\nHost:a:1\r\n\r\n",
        "OPTIONS * HTTP/1.1\r\nX:\r\n\r\n",
        "GET / HTTP/1.1\r\nX: \t a, b;c=\"d\"\t\r\n\r\n",
        "GET / HTTP/1.1\r\nX: \xc3\xa4\xff\r\n\r\n", /* obs-text */
        "GET / HTTP/1.1\r\n!#$%&'*+-.^_`|~09aZ: x\r\n\r\n",
        "POST / HTTP/1.1\r\nExpect: 100-continue\r\n\r\n",
        "POST / HTTP/1.1\r\nTransfer-Encoding: chunked\r\n\r\n",
        "POST / HTTP/1.1\r\nexpect:100-Continue \r\n\r\n",
    };
    for (size_t i = 0; i < G_N_ELEMENTS(rows); i++)
        assert_null(head_fault(rows[i], strlen(rows[i])));
}

static void
others_do_not(void **state G_GNUC_UNUSED)
{
    static const char *const rows[] = {
        "\r\n\r\n",
        "GET\r\n\r\n",
        "GET /\r\n\r\n",
        "GET  / HTTP/1.1\r\n\r\n",
        "GET /  HTTP/1.1\r\n\r\n",
        " GET / HTTP/1.1\r\n\r\n",
        "GET / HTTP/1.1 \r\n\r\n",
        "GET /a b HTTP/1.1\r\n\r\n",
        "GET\t/ HTTP/1.1\r\n\r\n",
        "GET / HTTP/1.2\r\n\r\n",
        "GET / HTTP/2.0\r\n\r\n",
        "GET / HTTP/1.11\r\n\r\n",
        "GET / http/1.1\r\n\r\n",
        "get / HTTP/1.1\r\n\r\n",
        "G\x01T / HTTP/1.1\r\n\r\n",
        "ABCDEFGHIJKLMNOPQ / HTTP/1.1\r\n\r\n",
        "GET /\xc3\xa4 HTTP/1.1\r\n\r\n",
        "GET /\x7f HTTP/1.1\r\n\r\n",
        "GET / HTTP/1.1\r\nX : y\r\n\r\n",
        "GET / HTTP/1.1\r\nX y\r\n\r\n",
        "GET / HTTP/1.1\r\n: y\r\n\r\n",
        "GET / HTTP/1.1\r\n X: y\r\n\r\n",
        "GET / HTTP/1.1\r\nA: b\r\n c\r\n\r\n",
        "GET / HTTP/1.1\r\nA: b\r\n\tc\r\n\r\n",
        "GET / HTTP/1.1\r\nA: b\nX: y\r\n\r\n",
        "GET / HTTP/1.1\r\nA: b\rX: y\r\n\r\n",
        "GET / HTTP/1.1\nA: b\n\r\n\r\n",
        "GET / HTTP/1.1\r\nA(b): c\r\n\r\n",
        "GET / HTTP/1.1\r\nA: \x01\r\n\r\n",
        "GET / HTTP/1.1\r\nA: \x7f\r\n\r\n",
        "GET / HTTP/1.1\r\nExpect: miracles\r\n\r\n",
        "GET / HTTP/1.1\r\nEXPECT:\r\n\r\n",
        "GET / HTTP/1.1\r\nContent-Length: +1\r\n\r\n",
        "GET / HTTP/1.1\r\ncontent-length: 0x1\r\n\r\n",
        "GET / HTTP/1.1\r\nContent-Length: 1, 1\r\n\r\n",
        "GET / HTTP/1.1\r\nContent-Length:\r\n\r\n",
        "GET / HTTP/1.1\r\nTransfer-Encoding: gzip, chunked\r\n\r\n",
        "GET / HTTP/1.1\r\nTransfer-Encoding: xchunked\r\n\r\n",
        "GET / HTTP/1.1\r\nA: b\r\n",
        "GET / HTTP/1.1\r\nA: b",
        "GET / HTTP/1.1",
        "",
    };
    for (size_t i = 0; i < G_N_ELEMENTS(rows); i++)
        assert_non_null(head_fault(rows[i], strlen(rows[i])));
    assert_non_null(head_fault("GET /\0 HTTP/1.1\r\n\r\n", 19));
    assert_non_null(head_fault("GET / HTTP/1.1\r\nA\0: b\r\n\r\n", 25));
    assert_non_null(head_fault("GET / HTTP/1.1\r\nA: \0\r\n\r\n", 24));
}

static void
hundred_headers_and_no_more(void **state G_GNUC_UNUSED)
{
    g_autoptr(GString) head = g_string_new("GET / HTTP/1.1\r\n");
    for (int i = 0; i < 100; i++)
        g_string_append(head, "a: b\r\n");
    g_autofree char *most = g_strconcat(head->str, "\r\n", NULL);
    assert_null(head_fault(most, strlen(most)));
    g_string_append(head, "a: b\r\n\r\n");
    assert_non_null(head_fault(head->str, head->len));
}

int
main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(sound_heads_pass),
                                       cmocka_unit_test(others_do_not),
                                       cmocka_unit_test(hundred_headers_and_no_more)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
