/* A short list, the one used last at its end. */
#include "app/page/rendered.h"

#include <string.h>

typedef struct {
    char *key, *title;
    GBytes *view;
} View;

struct Rendered {
    size_t most, most_bytes;
    size_t bytes; /* of all views */
    GMutex mutex;
    GPtrArray *views; /* View */
};

static void
view_free(gpointer data)
{
    View *view = data;
    g_free(view->key);
    g_free(view->title);
    g_bytes_unref(view->view);
    g_free(view);
}

Rendered *
rendered_new(size_t most, size_t most_bytes)
{
    Rendered *rendered = g_new0(Rendered, 1);
    rendered->most = most;
    rendered->most_bytes = most_bytes;
    g_mutex_init(&rendered->mutex);
    rendered->views = g_ptr_array_new_with_free_func(view_free);
    return rendered;
}

void
rendered_free(Rendered *rendered)
{
    if (rendered == NULL)
        return;
    g_ptr_array_unref(rendered->views);
    g_mutex_clear(&rendered->mutex);
    g_free(rendered);
}

static guint
find(const Rendered *rendered, const char *key)
{
    for (guint i = rendered->views->len; i > 0; i--)
        if (strcmp(((View *) g_ptr_array_index(rendered->views, i - 1))->key, key) == 0)
            return i - 1;
    return G_MAXUINT;
}

GBytes *
rendered_find(Rendered *rendered, const char *key, char **title)
{
    GBytes *found = NULL;
    g_mutex_lock(&rendered->mutex);
    guint at = find(rendered, key);
    if (at != G_MAXUINT) {
        View *view = g_ptr_array_steal_index(rendered->views, at);
        g_ptr_array_add(rendered->views, view);
        found = g_bytes_ref(view->view);
        if (title != NULL)
            *title = g_strdup(view->title);
    }
    g_mutex_unlock(&rendered->mutex);
    return found;
}

static void
forget(Rendered *rendered, guint at)
{
    const View *view = g_ptr_array_index(rendered->views, at);
    rendered->bytes -= g_bytes_get_size(view->view);
    g_ptr_array_remove_index(rendered->views, at);
}

/* Under the mutex. */
static void
keep(Rendered *rendered, const char *key, const char *title, GBytes *view)
{
    View *kept = g_new0(View, 1);
    kept->key = g_strdup(key);
    kept->title = g_strdup(title);
    kept->view = g_bytes_ref(view);
    rendered->bytes += g_bytes_get_size(view);
    g_ptr_array_add(rendered->views, kept);
    while (rendered->views->len > 1 &&
           (rendered->views->len > rendered->most || rendered->bytes > rendered->most_bytes))
        forget(rendered, 0);
}

GBytes *
rendered_keep(Rendered *rendered, const char *key, const char *title, GBytes *view)
{
    g_autoptr(GBytes) mine = view;
    g_mutex_lock(&rendered->mutex);
    guint at = find(rendered, key);
    if (at == G_MAXUINT)
        keep(rendered, key, title, mine);
    else
        view = ((View *) g_ptr_array_index(rendered->views, at))->view;
    GBytes *kept = g_bytes_ref(view);
    g_mutex_unlock(&rendered->mutex);
    return kept;
}
