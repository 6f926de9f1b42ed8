/* All that is served: the boats of a file or folder, what was solved of them, and the answer to every visit. */
#pragma once

#include "app/page/desk.h"
#include "app/page/shown.h"
#include "app/page/studies.h"
#include "app/serve/server.h"
#include "app/serve/visit.h"

typedef struct Site Site;

/* NULL with *error: no such file, a folder without a boat file. */
Site *site_new(const char *file_or_folder, GError **error);
void site_free(Site *site);
/* What the server asks for; data is the site. */
extern const ServerWork site_work;
/* Changes made by others are told to the pages through the server. */
void site_watch(Site *site, Server *server);
/* Folder for the secret of forms. */
const char *site_state(const Site *site);

/* For pages. */
Studies *site_studies(const Site *site);
Shown *site_shown(Site *site, Desk *desk, Edition *edition, const Look *look);
bool site_is_folder(const Site *site);
size_t site_desks(const Site *site);
Desk *site_desk(const Site *site, size_t i);
/* "" or "/dunlin", as addresses carry it; g_free. */
char *site_base(const Site *site, const Desk *desk);
void site_tell(Site *site, Desk *desk); /* a change of ours: every page hears of it */
/* Of --listen, with its key; NULL: only this machine sees the page. */
const char *site_lan_address(const Site *site);
const Catalog *site_catalog(const Site *site);
