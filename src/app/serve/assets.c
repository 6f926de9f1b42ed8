/* Each asset once, with the hash of its bytes as ETag: asked again, an unchanged one costs an empty answer. */
#include "app/serve/assets.h"

#include <stdbool.h>
#include <string.h>

#include "app/serve/message.h"
#include "serve_resource.h"

#define FOLDER "/careen/assets/"

typedef struct {
    GBytes *bytes;
    char *etag;
    const char *type;
} Asset;

struct Assets {
    GHashTable *named;
};

static const struct {
    const char *ending, *type;
} types[] = {
    {".css", "text/css; charset=utf-8"},
    {".js", "text/javascript; charset=utf-8"},
    {".svg", "image/svg+xml"},
    {".png", "image/png"},
    {".woff2", "font/woff2"},
    {".webmanifest", "application/manifest+json"},
};

static const char *
type_of(const char *name)
{
    for (size_t i = 0; i < G_N_ELEMENTS(types); i++)
        if (g_str_has_suffix(name, types[i].ending))
            return types[i].type;
    return "application/octet-stream";
}

static void
asset_free(gpointer data)
{
    Asset *asset = data;
    g_bytes_unref(asset->bytes);
    g_free(asset->etag);
    g_free(asset);
}

static Asset *
asset_new(const char *name)
{
    g_autofree char *path = g_strconcat(FOLDER, name, NULL);
    GBytes *bytes = g_resource_lookup_data(serve_get_resource(), path, 0, NULL);
    g_assert(bytes != NULL);
    g_autofree char *hash = g_compute_checksum_for_bytes(G_CHECKSUM_SHA256, bytes);
    Asset *asset = g_new(Asset, 1);
    *asset =
        (Asset){.bytes = bytes, .etag = g_strdup_printf("\"%s\"", hash), .type = type_of(name)};
    return asset;
}

Assets *
assets_new(void)
{
    Assets *assets = g_new(Assets, 1);
    assets->named = g_hash_table_new_full(g_str_hash, g_str_equal, g_free, asset_free);
    g_auto(GStrv) names = g_resource_enumerate_children(serve_get_resource(), FOLDER, 0, NULL);
    for (size_t i = 0; names != NULL && names[i] != NULL; i++)
        g_hash_table_insert(assets->named, g_strdup(names[i]), asset_new(names[i]));
    return assets;
}

void
assets_free(Assets *assets)
{
    if (assets == NULL)
        return;
    g_hash_table_unref(assets->named);
    g_free(assets);
}

static bool
has_it(SoupServerMessage *msg, const char *etag)
{
    const char *tags = lib.soup_message_headers_get_list(
        lib.soup_server_message_get_request_headers(msg), "If-None-Match");
    return tags != NULL && (strstr(tags, etag) != NULL || strcmp(tags, "*") == 0);
}

void
assets_answer(const Assets *assets, SoupServerMessage *msg, const char *name)
{
    const Asset *asset = g_hash_table_lookup(assets->named, name);
    if (asset == NULL) {
        message_refuse(msg, 404, "there is no such thing here");
        return;
    }
    SoupMessageHeaders *headers = lib.soup_server_message_get_response_headers(msg);
    lib.soup_message_headers_replace(headers, "Cache-Control", "no-cache");
    lib.soup_message_headers_replace(headers, "ETag", asset->etag);
    bool known = has_it(msg, asset->etag);
    lib.soup_server_message_set_status(msg, known ? 304 : 200, NULL);
    if (!known)
        message_body(msg, asset->type, asset->bytes);
}
