/* On the phone: the address with its key as a code to be read by a camera, or how to be seen by a phone at all. */
#include "app/page/pages.h"
#include "app/serve/qr.h"

void
page_phone(Page *page)
{
    const char *address = site_lan_address(page->site);
    page_title(page, "On the phone");
    if (address == NULL) {
        page_text(
            page, "p", NULL,
            "Only this machine can see the page now. To have it on a phone in the same network, "
            "start careen with the address that this machine has there:");
        page_text(page, "pre", "told", "careen serve FILE --listen 192.168.1.20");
        page_text(
            page, "p", NULL,
            "It then prints an address with a key, and shows it here as a code for the camera.");
    } else {
        page_text(page, "p", NULL,
                  "Point the phone's camera at this code; both must be in the same network.");
        if (!qr_svg(page->out, address, "Address of this page with its key"))
            page_text(page, "p", "empty", "The address is too long for a code.");
        page_text(page, "p", "quiet",
                  "Who has this code can see and change the boat until careen ends.");
    }
    page_text(
        page, "p", NULL,
        "The network carries everything in the clear, the key too: use one you trust, never the "
        "internet.");
}
