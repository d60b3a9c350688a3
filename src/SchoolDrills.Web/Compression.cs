using System.IO.Compression;
using Microsoft.AspNetCore.ResponseCompression;

namespace SchoolDrills.Web;

/// <summary>Answers that were not compressed when the program was built: pages, JSON, and the component library's style sheet.</summary>
internal static class Compression
{
    public static void AddCompression(this IServiceCollection services)
    {
        services.AddResponseCompression(compression =>
        {
            // Lengths give away a secret only where it stands beside what the visitor's request put into the page. The one secret in a
            // page is the antiforgery token, which is masked anew in each answer.
            compression.EnableForHttps = true;
            compression.MimeTypes = [.. ResponseCompressionDefaults.MimeTypes, "application/problem+json", "image/svg+xml"];
        });
        services.Configure<BrotliCompressionProviderOptions>(brotli => brotli.Level = CompressionLevel.Fastest);
    }
}
