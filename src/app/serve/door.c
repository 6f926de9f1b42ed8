/* libsoup keeps a connection alive only when it has listeners of its own, and then never closes what a browser has left. So the
 * listeners are ours, each connection serves one request, and the count of open ones is true. */
#include "app/serve/door.h"

#include <arpa/inet.h>
#include <ifaddrs.h>
#include <net/if.h>
#include <netinet/tcp.h>
#include <string.h>
#include <sys/resource.h>
#include <sys/socket.h>

#include "app/serve/knock.h"

enum {
    MOST_CONNECTIONS = 512,
    BACKLOG = 512,
    HEADER_S = 20,
    SILENCE_S = 30,
    LOST_MS = 45000,
    SEND_BUFFER = 131072
};

struct Door {
    SoupServer *server;
    GSocketService *service;
    Knocks *knocks;
    GSocket *arriving; /* of the connection that libsoup is being given */
    unsigned header_s, silence_s;
    unsigned port;
    unsigned connections, most;
    char *local;           /* host of the loopback address that answers */
    GInetAddress *asked;   /* --listen, unless it is loopback */
    GInetAddress *listens; /* --listen */
};

/* What hangs on a message. */
typedef struct {
    GSocket *socket;
    guint deadline;
    unsigned silence_s;
    bool foreign;
} Arrival;

static char *
host_text(GInetAddress *address)
{
    g_autofree char *text = g_inet_address_to_string(address);
    if (g_inet_address_get_family(address) == G_SOCKET_FAMILY_IPV6)
        return g_strdup_printf("[%s]", text);
    return g_steal_pointer(&text);
}

static Arrival *
arrival_of(SoupServerMessage *msg)
{
    return g_object_get_data(G_OBJECT(msg), "arrival");
}

static void
deadline_off(Arrival *arrival)
{
    if (arrival->deadline != 0)
        g_source_remove(arrival->deadline);
    arrival->deadline = 0;
}

static void
arrival_free(gpointer data)
{
    Arrival *arrival = data;
    deadline_off(arrival);
    g_object_unref(arrival->socket);
    g_free(arrival);
}

static gboolean
too_slow(gpointer data)
{
    Arrival *arrival = data;
    arrival->deadline = 0;
    g_socket_shutdown(arrival->socket, TRUE, TRUE, NULL);
    return G_SOURCE_REMOVE;
}

static void
request_read(SoupServerMessage *msg G_GNUC_UNUSED, gpointer data)
{
    deadline_off(data);
}

void
door_extend(SoupServerMessage *msg, unsigned seconds)
{
    Arrival *arrival = arrival_of(msg);
    deadline_off(arrival);
    arrival->deadline = g_timeout_add_seconds(seconds, too_slow, arrival);
}

/* The address itself: a socket of [::] shows IPv4 as ::ffff:192.168.1.20. */
static GInetAddress *
plain_address(GSocketAddress *address)
{
    static const guint8 mapped[12] = {[10] = 0xff, [11] = 0xff};
    if (!G_IS_INET_SOCKET_ADDRESS(address))
        return NULL;
    GInetAddress *found = g_inet_socket_address_get_address(G_INET_SOCKET_ADDRESS(address));
    const guint8 *bytes = g_inet_address_to_bytes(found);
    if (g_inet_address_get_family(found) == G_SOCKET_FAMILY_IPV6 &&
        memcmp(bytes, mapped, sizeof mapped) == 0)
        return g_inet_address_new_from_bytes(bytes + sizeof mapped, G_SOCKET_FAMILY_IPV4);
    return g_object_ref(found);
}

static bool
is_loopback(GSocketAddress *address)
{
    g_autoptr(GInetAddress) plain = plain_address(address);
    return plain != NULL && g_inet_address_get_is_loopback(plain);
}

static void
request_started(SoupServer *server G_GNUC_UNUSED, SoupServerMessage *msg, gpointer data)
{
    Door *door = data;
    Arrival *arrival = g_new0(Arrival, 1);
    arrival->socket = g_object_ref(door->arriving);
    arrival->silence_s = door->silence_s;
    arrival->foreign = !is_loopback(lib.soup_server_message_get_local_address(msg)) ||
                       !is_loopback(lib.soup_server_message_get_remote_address(msg));
    g_object_set_data_full(G_OBJECT(msg), "arrival", arrival, arrival_free);
    door_extend(msg, door->header_s);
    g_signal_connect(msg, "got-body", G_CALLBACK(request_read), arrival);
    g_signal_connect(msg, "disconnected", G_CALLBACK(request_read), arrival);
}

static void
connection_gone(gpointer data, GObject *connection G_GNUC_UNUSED)
{
    Door *door = data;
    door->connections--;
}

static gboolean
door_opens(GSocketService *service G_GNUC_UNUSED, GSocketConnection *connection,
           GObject *source G_GNUC_UNUSED, gpointer data)
{
    Door *door = data;
    if (door->connections >= door->most)
        return TRUE; /* nobody keeps it, so it closes */
    GSocket *socket = g_socket_connection_get_socket(connection);
    /* a phone that went out of reach says no word; its stream is not to be kept for a quarter of an hour */
    g_socket_set_option(socket, IPPROTO_TCP, TCP_USER_TIMEOUT, LOST_MS, NULL);
    /* a buffer of megabytes would look silent for longer than a slow reader is waited for */
    g_socket_set_option(socket, SOL_SOCKET, SO_SNDBUF, SEND_BUFFER, NULL);
    door->connections++;
    g_object_weak_ref(G_OBJECT(connection), connection_gone, door);
    knocks_wait(door->knocks, connection);
    return TRUE;
}

static void
let_in(GSocketConnection *connection, void *data)
{
    Door *door = data;
    GSocket *socket = g_socket_connection_get_socket(connection);
    g_autoptr(GSocketAddress) here = g_socket_connection_get_local_address(connection, NULL);
    g_autoptr(GSocketAddress) there = g_socket_connection_get_remote_address(connection, NULL);
    if (here == NULL || there == NULL)
        return; /* left already */
    g_socket_set_timeout(socket, door->silence_s);
    door->arriving = socket;
    lib.soup_server_accept_iostream(door->server, G_IO_STREAM(connection), here, there, NULL);
    door->arriving = NULL;
}

static bool
listen_at(Door *door, GInetAddress *address, GError **error)
{
    g_autoptr(GSocketAddress) wanted = g_inet_socket_address_new(address, (guint16) door->port);
    g_autoptr(GSocketAddress) got = NULL;
    if (!g_socket_listener_add_address(G_SOCKET_LISTENER(door->service), wanted,
                                       G_SOCKET_TYPE_STREAM, G_SOCKET_PROTOCOL_TCP, NULL, &got,
                                       error))
        return false;
    if (door->port == 0)
        door->port = g_inet_socket_address_get_port(G_INET_SOCKET_ADDRESS(got));
    return true;
}

/* What --listen names takes in what it covers: 0.0.0.0 the loopback address too, [::] both. */
static bool
covered(const Door *door, GSocketFamily family)
{
    return door->asked != NULL && g_inet_address_get_is_any(door->asked) &&
           (family == G_SOCKET_FAMILY_IPV4 ||
            g_inet_address_get_family(door->asked) == G_SOCKET_FAMILY_IPV6);
}

static bool
listen_local(Door *door, GError **error)
{
    g_autoptr(GInetAddress) four = g_inet_address_new_loopback(G_SOCKET_FAMILY_IPV4);
    g_autoptr(GInetAddress) six = g_inet_address_new_loopback(G_SOCKET_FAMILY_IPV6);
    g_autoptr(GError) why = NULL;
    bool have_four = covered(door, G_SOCKET_FAMILY_IPV4) || listen_at(door, four, &why);
    if (!have_four && g_error_matches(why, G_IO_ERROR, G_IO_ERROR_ADDRESS_IN_USE)) {
        g_set_error(error, G_IO_ERROR, G_IO_ERROR_ADDRESS_IN_USE,
                    "port %u is taken; another careen may be running, --port N takes another",
                    door->port);
        return false;
    }
    bool have_six = covered(door, G_SOCKET_FAMILY_IPV6) || listen_at(door, six, NULL);
    if (!have_four && !have_six) {
        g_propagate_error(error, g_steal_pointer(&why));
        return false;
    }
    door->local = host_text(have_four ? four : six);
    return true;
}

static bool
listen_everywhere(Door *door, const ServerHow *how, GError **error)
{
    if (how->listen != NULL) {
        door->listens = g_inet_address_new_from_string(how->listen);
        if (door->listens == NULL) {
            g_set_error(error, G_IO_ERROR, G_IO_ERROR_INVALID_ARGUMENT,
                        "--listen wants an address of this machine such as 192.168.1.20, not '%s'",
                        how->listen);
            return false;
        }
        if (!g_inet_address_get_is_loopback(door->listens))
            door->asked = g_object_ref(door->listens);
    }
    if (door->asked != NULL && !listen_at(door, door->asked, error)) {
        g_prefix_error(error, "--listen %s: ", how->listen);
        return false;
    }
    return listen_local(door, error);
}

static unsigned
most_connections(void)
{
    struct rlimit files;
    if (getrlimit(RLIMIT_NOFILE, &files) != 0 || files.rlim_cur / 2 > MOST_CONNECTIONS)
        return MOST_CONNECTIONS;
    return (unsigned) files.rlim_cur / 2;
}

Door *
door_new(SoupServer *server, const ServerHow *how, GError **error)
{
    Door *door = g_new0(Door, 1);
    door->server = server;
    door->service = g_socket_service_new();
    /* each address it is given while it runs cancels an accept, and who came meanwhile is lost */
    g_socket_service_stop(door->service);
    door->port = how->port;
    door->header_s = how->header_s != 0 ? how->header_s : HEADER_S;
    door->silence_s = how->silence_s != 0 ? how->silence_s : SILENCE_S;
    door->most = most_connections();
    door->knocks = knocks_new(door->header_s, let_in, door);
    g_socket_listener_set_backlog(G_SOCKET_LISTENER(door->service), BACKLOG);
    if (how->port > 65535)
        g_set_error(error, G_IO_ERROR, G_IO_ERROR_INVALID_ARGUMENT,
                    "a port is a number up to 65535, not %u", how->port);
    else if (listen_everywhere(door, how, error)) {
        g_signal_connect(door->service, "incoming", G_CALLBACK(door_opens), door);
        g_signal_connect(server, "request-started", G_CALLBACK(request_started), door);
        g_socket_service_start(door->service);
        return door;
    }
    door_free(door);
    return NULL;
}

void
door_close(Door *door)
{
    g_socket_service_stop(door->service);
    g_socket_listener_close(G_SOCKET_LISTENER(door->service));
    knocks_end(door->knocks);
}

void
door_free(Door *door)
{
    if (door == NULL)
        return;
    door_close(door);
    g_object_unref(door->service);
    knocks_free(door->knocks);
    g_clear_object(&door->asked);
    g_clear_object(&door->listens);
    g_free(door->local);
    g_free(door);
}

unsigned
door_port(const Door *door)
{
    return door->port;
}

char *
door_address(const Door *door)
{
    return g_strdup_printf("%s:%u", door->local, door->port);
}

/* The first address that others on the network can reach. */
static GInetAddress *
own_address(GSocketFamily family)
{
    struct ifaddrs *list;
    GInetAddress *found = NULL;
    if (getifaddrs(&list) != 0)
        return NULL;
    for (struct ifaddrs *i = list; i != NULL && found == NULL; i = i->ifa_next) {
        if (i->ifa_addr == NULL || i->ifa_addr->sa_family != (int) family ||
            (i->ifa_flags & IFF_LOOPBACK) != 0 || (i->ifa_flags & IFF_UP) == 0)
            continue;
        const void *bytes = family == G_SOCKET_FAMILY_IPV4
                                ? (void *) &((struct sockaddr_in *) i->ifa_addr)->sin_addr
                                : (void *) &((struct sockaddr_in6 *) i->ifa_addr)->sin6_addr;
        g_autoptr(GInetAddress) address = g_inet_address_new_from_bytes(bytes, family);
        if (!g_inet_address_get_is_link_local(address))
            found = g_steal_pointer(&address);
    }
    freeifaddrs(list);
    return found;
}

char *
door_lan_address(const Door *door)
{
    if (door->asked == NULL)
        return NULL;
    g_autoptr(GInetAddress) found = NULL;
    if (!g_inet_address_get_is_any(door->asked))
        found = g_object_ref(door->asked);
    else if ((found = own_address(G_SOCKET_FAMILY_IPV4)) == NULL)
        found = own_address(g_inet_address_get_family(door->asked));
    if (found == NULL)
        return NULL;
    g_autofree char *host = host_text(found);
    return g_strdup_printf("%s:%u", host, door->port);
}

static bool
names(const Door *door, const char *host, const char *name)
{
    size_t length = strlen(name);
    if (g_ascii_strncasecmp(host, name, length) != 0)
        return false;
    if (door->port == 80 && host[length] == '\0')
        return true;
    g_autofree char *port = g_strdup_printf(":%u", door->port);
    return strcmp(host + length, port) == 0;
}

/* The address a connection came to may be its name: an address is no name that somebody could point elsewhere. */
static bool
names_address(const Door *door, const char *host, GInetAddress *address)
{
    g_autofree char *text = host_text(address);
    return names(door, host, text);
}

bool
door_is_called(const Door *door, SoupServerMessage *msg, const char *host)
{
    if (names(door, host, "localhost") || names(door, host, "127.0.0.1") ||
        names(door, host, "[::1]"))
        return true;
    if (door->listens == NULL)
        return false;
    if (!g_inet_address_get_is_any(door->listens))
        return names_address(door, host, door->listens);
    g_autoptr(GInetAddress) here = plain_address(lib.soup_server_message_get_local_address(msg));
    return here != NULL && names_address(door, host, here);
}

GSocket *
door_socket(SoupServerMessage *msg)
{
    return arrival_of(msg)->socket;
}

bool
door_foreign(SoupServerMessage *msg)
{
    return arrival_of(msg)->foreign;
}

typedef struct {
    GSocket *socket;
    void (*gone)(bool talks, void *data);
    void *data;
} Watch;

static gboolean
peek(GSocket *socket, GIOCondition condition G_GNUC_UNUSED, gpointer data)
{
    Watch *watch = data;
    char c;
    ssize_t n = recv(g_socket_get_fd(socket), &c, 1, MSG_PEEK | MSG_DONTWAIT);
    if (n < 0 && (errno == EAGAIN || errno == EINTR))
        return G_SOURCE_CONTINUE;
    watch->gone(n > 0, watch->data);
    return G_SOURCE_REMOVE;
}

GSource *
door_watch(SoupServerMessage *msg, void (*gone)(bool talks, void *data), void *data)
{
    GSocket *socket = door_socket(msg);
    Watch *watch = g_new(Watch, 1);
    *watch = (Watch){.socket = socket, .gone = gone, .data = data};
    g_socket_set_timeout(socket, 0); /* else the watch times out and spoils the next write */
    GSource *source = g_socket_create_source(socket, G_IO_IN | G_IO_HUP, NULL);
    g_source_set_callback(source, G_SOURCE_FUNC(peek), watch, g_free);
    g_source_attach(source, NULL);
    // cppcheck-suppress memleak ; the source frees it
    return source;
}

void
door_watch_end(GSource **watch, SoupServerMessage *msg)
{
    if (*watch == NULL)
        return;
    g_source_destroy(*watch);
    g_clear_pointer(watch, g_source_unref);
    g_socket_set_timeout(door_socket(msg), arrival_of(msg)->silence_s);
}
