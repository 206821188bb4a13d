using System.Net;
using System.Net.Http.Json;
using System.Text.Json;

namespace Acquire.Terminal;

/// <summary>What the service answers: a document, or why it refused, in its own words.</summary>
internal static class ServiceAnswer
{
    /// <exception cref="BenchException">The service refused.</exception>
    public static async Task<T> OfAsync<T>(HttpResponseMessage answer, CancellationToken cancellationToken) =>
        answer.IsSuccessStatusCode
            ? (await answer.Content.ReadFromJsonAsync<T>(WireJson.Options, cancellationToken))!
            : throw await ProblemAsync(answer, cancellationToken);

    public static async Task<BenchException> ProblemAsync(HttpResponseMessage answer, CancellationToken cancellationToken)
    {
        try
        {
            var problem = await answer.Content.ReadFromJsonAsync<JsonElement>(cancellationToken);
            return new BenchException(problem.GetProperty("detail").GetString() ?? Refused(answer.StatusCode));
        }
        catch (Exception fault) when (fault is JsonException or KeyNotFoundException or InvalidOperationException)
        {
            return new BenchException(Refused(answer.StatusCode));
        }
    }

    private static string Refused(HttpStatusCode status) => $"The service refused it ({(int)status}).";
}
