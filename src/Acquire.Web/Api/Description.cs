using System.Text.Json;
using System.Text.Json.Nodes;
using Microsoft.AspNetCore.OpenApi;
using Microsoft.OpenApi;

namespace Acquire.Web.Api;

/// <summary>The OpenAPI document: what every route takes and answers, with examples.</summary>
internal static class Description
{
    private const string Bearer = "bearer";

    public static IServiceCollection AddDescription(this IServiceCollection services) => services.AddOpenApi("v1", options =>
    {
        options.CreateSchemaReferenceId = type => NameOf(OpenApiOptions.CreateDefaultSchemaReferenceId(type));
        options.AddDocumentTransformer((document, _, _) =>
        {
            document.Info = new OpenApiInfo
            {
                Title = "Acquire",
                Version = "1",
                Description = "Process control for colour film by control strip and densitometer. Densities are status densities as the "
                    + "instrument shows them; times are ISO 8601; answers have every property, null where there is nothing. Lists come in "
                    + "parts: ask again with next as the cursor. Errors are problem documents (RFC 9457) whose detail says what to do.",
            };
            // Where it listens is the business of whoever asks.
            document.Servers = [];
            document.Components ??= new OpenApiComponents();
            document.Components.SecuritySchemes = new Dictionary<string, IOpenApiSecurityScheme>
            {
                [Bearer] = new OpenApiSecurityScheme
                {
                    Type = SecuritySchemeType.Http,
                    Scheme = Bearer,
                    Description = "The token of service.json in the data folder.",
                },
            };
            document.Security = [new OpenApiSecurityRequirement { [new OpenApiSecuritySchemeReference(Bearer, document)] = [] }];
            return Task.CompletedTask;
        });
        options.AddSchemaTransformer((schema, context, _) =>
        {
            // What comes in is taken by the letter; what goes out may have more one day.
            schema.AdditionalPropertiesAllowed |= !context.JsonTypeInfo.Type.Name.EndsWith("Body", StringComparison.Ordinal);
            return Task.CompletedTask;
        });
        options.AddOperationTransformer((operation, context, _) =>
        {
            if (context.Description.ActionDescriptor.EndpointMetadata.OfType<RequestExample>().LastOrDefault() is { } example
                && operation.RequestBody?.Content is { } content && content.TryGetValue("application/json", out var body))
            {
                body.Example = ExampleOf(example.Body);
            }

            if (operation.OperationId is { } id && Answers.Of(id) is { } answer && operation.Responses is { } responses)
            {
                foreach (var media in responses.Where(r => r.Key.StartsWith('2')).SelectMany(r => r.Value.Content?.Values ?? []))
                {
                    media.Example = answer.DeepClone();
                }
            }

            return Task.CompletedTask;
        });
    });

    /// <summary>A body as somebody would send it: what is not said is left out.</summary>
    public static JsonNode? ExampleOf(object body) => JsonSerializer.SerializeToNode(body, body.GetType(), Formats.Json.JsonText.Options);

    private static string? NameOf(string? id) => id?.Replace("Document", "", StringComparison.Ordinal);

    /// <summary>An answer to each operation, shortened from what a service once gave; a test holds them to what it gives now.</summary>
    private static class Answers
    {
        private static readonly Lazy<JsonObject> All = new(() =>
        {
            using var stream = typeof(Description).Assembly.GetManifestResourceStream("answers.json");
            return stream is null ? [] : JsonNode.Parse(stream)!.AsObject();
        });

        public static JsonNode? Of(string operation) => All.Value[operation];
    }
}
