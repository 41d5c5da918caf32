// In place of ICU, which the XML library asks last, for encodings that neither it nor iconv knows: none is
// known here either. The calls are those of libxml2 2.9; ICU itself would be 35 MB, most of it tables.
#include <unicode/ucnv.h>

UConverter* ucnv_open(const char* /*name*/, UErrorCode* error) {
  *error = U_FILE_ACCESS_ERROR;
  return nullptr;
}

// Without an open converter nothing below is called.

void ucnv_close(UConverter* /*converter*/) {}

void ucnv_convertEx(UConverter* /*to*/, UConverter* /*from*/, char** /*target*/, const char* /*target_end*/,
                    const char** /*source*/, const char* /*source_end*/, UChar* /*pivot_start*/,
                    UChar** /*pivot_source*/, UChar** /*pivot_target*/, const UChar* /*pivot_end*/,
                    UBool /*reset*/, UBool /*flush*/, UErrorCode* error) {
  *error = U_UNSUPPORTED_ERROR;
}

void ucnv_setFromUCallBack(UConverter* /*converter*/, UConverterFromUCallback /*action*/,
                           const void* /*context*/, UConverterFromUCallback* /*old_action*/,
                           const void** /*old_context*/, UErrorCode* error) {
  *error = U_UNSUPPORTED_ERROR;
}

void ucnv_setToUCallBack(UConverter* /*converter*/, UConverterToUCallback /*action*/, const void* /*context*/,
                         UConverterToUCallback* /*old_action*/, const void** /*old_context*/,
                         UErrorCode* error) {
  *error = U_UNSUPPORTED_ERROR;
}

void UCNV_FROM_U_CALLBACK_STOP(const void* /*context*/, UConverterFromUnicodeArgs* /*arguments*/,
                               const UChar* /*units*/, int32_t /*length*/, UChar32 /*code_point*/,
                               UConverterCallbackReason /*reason*/, UErrorCode* /*error*/) {}

void UCNV_TO_U_CALLBACK_STOP(const void* /*context*/, UConverterToUnicodeArgs* /*arguments*/,
                             const char* /*units*/, int32_t /*length*/, UConverterCallbackReason /*reason*/,
                             UErrorCode* /*error*/) {}
