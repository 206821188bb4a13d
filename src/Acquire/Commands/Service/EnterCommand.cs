using System.Net.Http.Json;
using System.Text;
using System.Text.Json;
using Acquire.Formats.Json;
using Acquire.Web.Hosting;

namespace Acquire.Commands.Service;

/// <summary><c>acquire serve enter</c>: a new address that lets a browser in.</summary>
internal static class EnterCommand
{
    public static Command Build(Surroundings surroundings)
    {
        var command =
            new Command("enter", "Print a new address of the running service that lets a browser in, once and within ten minutes.");
        command.SetAction(async (parsed, cancellationToken) =>
        {
            var folder = DataFolder.Resolve(parsed.GetValue(Common.Data));
            var service = ServiceFile.Find(folder)
                ?? throw new BenchException($"No service runs on {folder}. Start one with: acquire serve");
            surroundings.Out.Line(service.Url + await AskAsync(service, cancellationToken));
            return ExitCode.Done;
        });
        return command;
    }

    private static async Task<string> AskAsync(ServiceFile service, CancellationToken cancellationToken)
    {
        try
        {
            using var client = ServiceConnection.Open(service);
            using var nothing = new StringContent("", Encoding.UTF8, "application/json");
            using var answer = await client.PostAsync(new Uri("/api/v1/sign-ins", UriKind.Relative), nothing, cancellationToken);
            var document =
                await answer.EnsureSuccessStatusCode().Content.ReadFromJsonAsync<JsonElement>(JsonText.Options, cancellationToken);
            return document.GetProperty("path").GetString()!;
        }
        catch (HttpRequestException e)
        {
            throw new BenchException($"The service, process {service.Pid}, does not answer: {e.Message} Try again, or start it anew.");
        }
    }
}
