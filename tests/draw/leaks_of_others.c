/* What libraries keep for themselves to the end of the process (fontconfig's patterns), or forget when a file is refused
 * (libxml2's entities), is no leak of ours. */
const char *__lsan_default_suppressions(void);

const char *
__lsan_default_suppressions(void)
{
    return "leak:libfontconfig.so\nleak:libxml2.so\nleak:libpango\n";
}
