/* serve: the boat in a browser. */
#include <errno.h>
#include <string.h>
#include <unistd.h>

#include "app/command.h"
#include "app/page/site.h"
#include "app/serve/qr.h"
#include "app/serve/server.h"

enum { USUAL_PORT = 8150 };

/* At once, not at the end: the command goes on running. */
static void
say(const char *text)
{
    console_write(text, strlen(text), EXIT_ALL_DONE);
}

static void
say_where(const Server *server)
{
    g_autoptr(GString) out = g_string_new(NULL);
    const char *lan = server_lan_address(server);
    g_string_append_printf(out, "Her page: %s\n", server_address(server));
    if (lan != NULL) {
        g_autofree char *code = qr_blocks(lan);
        g_string_append_printf(out,
                               "From a phone in the same network: %s\n%sThe network carries this "
                               "in the clear, the key "
                               "too: use one you trust, never the internet.\n",
                               lan, code != NULL ? code : "");
    }
    g_string_append(out, "Ctrl-C ends it; what was changed is in the file.\n");
    say(out->str);
}

int
command_serve(const CommandLine *line, GString *out)
{
    (void) out;
    const char *file = command_file(line, 2);
    if (file == NULL)
        return EXIT_INPUT;
    g_autoptr(GError) error = NULL;
    Site *site = site_new(file, &error);
    if (site == NULL)
        return console_complain(EXIT_INPUT, "%s", error->message);
    ServerWork work = site_work;
    work.data = site;
    ServerHow how = {.listen = line->listen,
                     .port = line->port_given ? line->port : USUAL_PORT,
                     .state = site_state(site)};
    Server *server = server_new(&how, &work, &error);
    if (server == NULL) {
        site_free(site);
        return console_complain(EXIT_PROGRAM, "%s", error->message);
    }
    site_watch(site, server);
    say_where(server);
    if (!server_run(server))
        _exit(EXIT_ALL_DONE); /* a page is still at work; what was to be saved is saved */
    server_free(server);
    site_free(site);
    return EXIT_ALL_DONE;
}
