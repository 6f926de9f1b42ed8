/* What changed from one view to a later one of the same address, so that a page that shows the one is sent that and no more.
 *
 *     <changes>
 *       <part at="arrangement-plan-items.stove 0" is="circle"><set name="cx">194.16</set><unset name="r"/></part>
 *       <part at="f-items.stove.mass 2 1" is="span"><text n="0">104 kg</text></part>
 *       <part at="worst" is="ul"><whole>&lt;ul id="worst"&gt;...</whole></part>
 *     </changes>
 *
 * `at`: the id of an element and from there the places of child elements, from 0; `is`: its name, to be sure. `text`: the child
 * node of that place. `whole`: the element as it is now, where its parts are others than before. In a picture only whole pictures
 * are exchanged, since its parts cannot be read alone. The start tag of the outermost element does not count. */
#pragma once

#include <glib.h>

/* NULL when the whole view is the better answer, or it cannot be said. g_free. */
char *view_changes(const char *before, const char *after);
