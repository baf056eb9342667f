/* The one function that Rust's standard library takes from bcryptprimitives.dll (random bytes for the seeds of
   hash tables), for versions of Wine that come without that library. Windows itself has it and never sees this file. */
#include <windows.h>

BOOLEAN NTAPI SystemFunction036(PVOID data, ULONG length); /* RtlGenRandom, of advapi32 */

__declspec(dllexport) BOOL WINAPI ProcessPrng(PBYTE data, SIZE_T length) {
  return SystemFunction036(data, (ULONG)length);
}
