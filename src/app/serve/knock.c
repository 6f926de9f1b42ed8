/* Looks at the head of a request without taking it from the socket. SO_RCVLOWAT keeps the loop asleep until more of it has come:
 * one who drips costs a wake a drip, not a loop that spins. */
#include "app/serve/knock.h"

#include <errno.h>
#include <poll.h>
#include <stdbool.h>
#include <string.h>
#include <sys/socket.h>

#include "app/serve/head.h"
#include "app/serve/message.h"

enum { MOST_HEAD = 32768 };

struct Knocks {
    GHashTable *open; /* of Knock */
    unsigned seconds;
    void (*let_in)(GSocketConnection *connection, void *data);
    void *data;
    char head[MOST_HEAD]; /* of whom we look at now */
};

typedef struct {
    Knocks *knocks;
    GSocketConnection *connection;
    GSource *readable;
    guint deadline;
    size_t seen;
} Knock;

static void
knock_free(gpointer data)
{
    Knock *knock = data;
    if (knock->deadline != 0)
        g_source_remove(knock->deadline);
    g_source_destroy(knock->readable);
    g_source_unref(knock->readable);
    g_object_unref(knock->connection);
    g_free(knock);
}

Knocks *
knocks_new(unsigned seconds, void (*let_in)(GSocketConnection *connection, void *data), void *data)
{
    Knocks *knocks = g_new0(Knocks, 1);
    knocks->open = g_hash_table_new_full(NULL, NULL, knock_free, NULL);
    knocks->seconds = seconds;
    knocks->let_in = let_in;
    knocks->data = data;
    return knocks;
}

void
knocks_end(Knocks *knocks)
{
    g_hash_table_remove_all(knocks->open);
}

void
knocks_free(Knocks *knocks)
{
    if (knocks == NULL)
        return;
    g_hash_table_unref(knocks->open);
    g_free(knocks);
}

static gboolean
too_slow(gpointer data)
{
    Knock *knock = data;
    knock->deadline = 0;
    g_hash_table_remove(knock->knocks->open, knock);
    return G_SOURCE_REMOVE;
}

/* What lies unread would make the kernel reset the connection, and the answer might be lost. */
static void
refuse(Knock *knock, unsigned status, const char *sentence)
{
    GSocket *socket = g_socket_connection_get_socket(knock->connection);
    Knocks *knocks = knock->knocks;
    message_bare(socket, status, sentence);
    for (int i = 0; i < 8; i++)
        if (recv(g_socket_get_fd(socket), knocks->head, MOST_HEAD, MSG_DONTWAIT) <= 0)
            break;
    g_hash_table_remove(knocks->open, knock);
}

static void
wake_after(GSocket *socket, size_t bytes)
{
    g_socket_set_option(socket, SOL_SOCKET, SO_RCVLOWAT, (gint) bytes, NULL);
}

static void
let_in(Knock *knock)
{
    Knocks *knocks = knock->knocks;
    g_autoptr(GSocketConnection) connection = g_object_ref(knock->connection);
    wake_after(g_socket_connection_get_socket(connection), 1);
    g_hash_table_remove(knocks->open, knock);
    knocks->let_in(connection, knocks->data);
}

static bool
will_say_no_more(GSocket *socket)
{
    struct pollfd peer = {.fd = g_socket_get_fd(socket), .events = POLLRDHUP};
    return poll(&peer, 1, 0) > 0;
}

static gboolean
look(GSocket *socket, GIOCondition condition G_GNUC_UNUSED, gpointer data)
{
    Knock *knock = data;
    char *head = knock->knocks->head;
    ssize_t n = recv(g_socket_get_fd(socket), head, MOST_HEAD, MSG_PEEK | MSG_DONTWAIT);
    if (n < 0 && (errno == EAGAIN || errno == EINTR))
        return G_SOURCE_CONTINUE;
    const char *end = n > 0 ? memmem(head, (size_t) n, "\r\n\r\n", 4) : NULL;
    const char *fault = end != NULL ? head_fault(head, (size_t) (end - head) + 4) : NULL;
    if (fault != NULL)
        refuse(knock, 400, fault);
    else if (end != NULL)
        let_in(knock);
    else if (n == MOST_HEAD)
        refuse(knock, 431, "the headers of this request are too long");
    else if (n <= 0 || ((size_t) n == knock->seen && will_say_no_more(socket)))
        g_hash_table_remove(knock->knocks->open, knock);
    else {
        knock->seen = (size_t) n;
        wake_after(socket, knock->seen + 1);
        return G_SOURCE_CONTINUE;
    }
    return G_SOURCE_REMOVE;
}

void
knocks_wait(Knocks *knocks, GSocketConnection *connection)
{
    GSocket *socket = g_socket_connection_get_socket(connection);
    Knock *knock = g_new0(Knock, 1);
    g_socket_set_blocking(socket, FALSE);
    knock->knocks = knocks;
    knock->connection = g_object_ref(connection);
    knock->deadline = g_timeout_add_seconds(knocks->seconds, too_slow, knock);
    knock->readable = g_socket_create_source(socket, G_IO_IN | G_IO_HUP, NULL);
    g_source_set_callback(knock->readable, G_SOURCE_FUNC(look), knock, NULL);
    g_source_attach(knock->readable, NULL);
    g_hash_table_add(knocks->open, knock);
    // cppcheck-suppress memleak ; the table frees it
}
