/* doubt, remedies, compare: one boat solved many times. */
#include "app/command.h"
#include "app/load.h"
#include "report/doubt_json.h"
#include "report/doubt_text.h"
#include "study/doubt.h"

int
command_doubt(const CommandLine *line, GString *out)
{
    int code = EXIT_INPUT;
    const char *file = command_file(line, 2);
    g_autoptr(Loaded) loaded = file != NULL ? load_boat(line, file, &code) : NULL;
    if (loaded == NULL)
        return code;
    g_autoptr(Result) result = solve(&loaded->input);
    g_autoptr(Doubt) doubt = doubt_find(&loaded->input, result, NULL);
    if (line->json)
        write_doubt_json(result, doubt, &loaded->asked, out);
    else
        write_doubt_text(result, doubt, &loaded->asked, &loaded->style, out);
    return EXIT_ALL_DONE;
}
