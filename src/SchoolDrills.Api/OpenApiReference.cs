using System.Reflection;
using System.Security.Cryptography;
using System.Text.Json.Nodes;
using Microsoft.AspNetCore.Authorization;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Mvc.Abstractions;
using Microsoft.AspNetCore.Mvc.Infrastructure;
using Microsoft.AspNetCore.OpenApi;
using Microsoft.AspNetCore.Routing;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Net.Http.Headers;
using Microsoft.OpenApi;

namespace SchoolDrills.Api;

/// <summary>What the reference says beside the endpoints themselves.</summary>
internal static class OpenApiReference
{
    public const string Name = "v1";

    private const string Bearer = "bearer";

    /// <summary>The file, with an ETag: whoever has it already is answered 304.</summary>
    public static void MapReference(this IEndpointRouteBuilder app) =>
        app.MapGet(
                $"/api/{Name}/openapi.json",
                async (OpenApiFile file) =>
                {
                    var (bytes, tag) = await file.ReadAsync();
                    return TypedResults.Bytes(bytes, "application/json;charset=utf-8", entityTag: tag);
                }
            )
            .AllowAnonymous()
            .ExcludeFromDescription();

    public static void Describe(OpenApiOptions options)
    {
        options.AddDocumentTransformer(
            (document, _, _) =>
            {
                document.Info.Title = "SchoolDrills";
                document.Info.Version = "1";
                document.Info.Description =
                    "Assign, log and track instrument scan-and-workload drills. Sign in at POST "
                    + "/api/v1/session and send the access token as bearer. Errors are problem details (RFC 9457).";
                document.Components ??= new OpenApiComponents();
                document.Components.SecuritySchemes ??= new Dictionary<string, IOpenApiSecurityScheme>();
                document.Components.SecuritySchemes[Bearer] = new OpenApiSecurityScheme { Type = SecuritySchemeType.Http, Scheme = Bearer };
                return Task.CompletedTask;
            }
        );
        options.AddOperationTransformer(
            (operation, context, _) =>
            {
                foreach (var parameter in context.Description.ParameterDescriptions)
                {
                    if (
                        WordsOf(parameter.ParameterDescriptor) is { } words
                        && operation.Parameters?.FirstOrDefault(p => p.Name == parameter.Name)?.Schema is OpenApiSchema schema
                    )
                    {
                        schema.Enum = [.. words.Select(word => JsonValue.Create(word))];
                    }
                }

                return Task.CompletedTask;
            }
        );
        options.AddOperationTransformer(
            (operation, context, _) =>
            {
                if (
                    context.Description.ActionDescriptor.EndpointMetadata.OfType<IAuthorizeData>().Any()
                    && !context.Description.ActionDescriptor.EndpointMetadata.OfType<IAllowAnonymous>().Any()
                )
                {
                    operation.Security =
                    [
                        new OpenApiSecurityRequirement { [new OpenApiSecuritySchemeReference(Bearer, context.Document)] = [] },
                    ];
                }

                return Task.CompletedTask;
            }
        );
    }

    /// <summary>The words that a parameter takes, where it takes no others.</summary>
    private static IReadOnlyCollection<string>? WordsOf(ParameterDescriptor? parameter)
    {
        if (parameter is not IParameterInfoParameterDescriptor { ParameterInfo: var info })
            return null;
        if (info.GetCustomAttribute<WordsAttribute>() is { } said)
            return said.Words;
        var type = Nullable.GetUnderlyingType(info.ParameterType) ?? info.ParameterType;
        return type.IsGenericType && type.GetGenericTypeDefinition() == typeof(QueryWord<>)
            ? (IReadOnlyCollection<string>)type.GetProperty(nameof(QueryWord<HostRole>.Words))!.GetValue(null)!
            : null;
    }
}

/// <summary>The reference as a file, made once: it costs a tenth of a second, and anybody may ask for it.</summary>
internal sealed class OpenApiFile([FromKeyedServices(OpenApiReference.Name)] IOpenApiDocumentProvider provider)
{
    private readonly Lazy<Task<(byte[] Bytes, EntityTagHeaderValue Tag)>> made = new(() => MakeAsync(provider));

    public Task<(byte[] Bytes, EntityTagHeaderValue Tag)> ReadAsync() => made.Value;

    private static async Task<(byte[] Bytes, EntityTagHeaderValue Tag)> MakeAsync(IOpenApiDocumentProvider provider)
    {
        var document = await provider.GetOpenApiDocumentAsync();
        using var json = new MemoryStream();
        await document.SerializeAsJsonAsync(json, OpenApiSpecVersion.OpenApi3_1);
        var bytes = json.ToArray();
        return (bytes, new EntityTagHeaderValue($"\"{Convert.ToHexStringLower(SHA256.HashData(bytes))[..16]}\""));
    }
}
