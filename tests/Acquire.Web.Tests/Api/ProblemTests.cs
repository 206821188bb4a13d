using System.Net.Http.Headers;
using System.Text;
using System.Text.Json.Nodes;

namespace Acquire.Web.Tests.Api;

/// <summary>What cannot be answered is told in a problem document, with the sentence that a command would say.</summary>
public sealed class ProblemTests
{
    private const string Lot = """{"code":"2417","process":"c41"}""";

    private static CancellationToken Token => TestContext.Current.CancellationToken;

    [Fact]
    public async Task Problems_say_what_is_wrong_and_what_to_do()
    {
        await using var service = await RunningService.StartAsync(Token);
        await HoldAsync(service, 404, "There is no lot 9; the store has none yet. Add it first", "GET", "/api/v1/lots/9");
        await HoldAsync(service, 404, "There is no process sheet 'x9'", "GET", "/api/v1/processes/x9");
        await HoldAsync(service, 404, "There is no strip ffff", "GET", "/api/v1/strips/ffff");
        await HoldAsync(service, 404, "There is nothing of this name", "GET", "/api/v1/nothing");
        await HoldAsync(service, 405, "DELETE is not among", "DELETE", "/api/v1/lots");
        await HoldAsync(service, 400, "limit takes a whole number from 1 to 1000", "GET", "/api/v1/lots?limit=0");
        await HoldAsync(service, 400, "'many' is no limit", "GET", "/api/v1/lots?limit=many");
        await HoldAsync(service, 400, "'!' is no cursor", "GET", "/api/v1/lots?cursor=!");
        await HoldAsync(service, 400, "is no cursor", "GET", "/api/v1/strips?cursor=YWJj");
        await HoldAsync(service, 422, "'2026-02-30' is no day; expected year, month and day", "GET", "/api/v1/strips?since=2026-02-30");
        await HoldAsync(service, 422, "is no level of a verdict", "GET", "/api/v1/strips/ffff?level=NaN");
        await HoldAsync(service, 415, "Send application/json", "POST", "/api/v1/lots", Lot, "text/plain");
        await HoldAsync(service, 415, "Send application/json", "POST", "/api/v1/backups", "all", "application/x-www-form-urlencoded");
        await HoldAsync(service, 400, "line 1, byte 9", "POST", "/api/v1/lots", """{"code":}""");
        await HoldAsync(service, 400, "The body lacks 'process'", "POST", "/api/v1/lots", """{"code":"2417"}""");
        await HoldAsync(
            service, 400, "has 'colour', which is not known", "POST", "/api/v1/lots", """{"code":"1","process":"c41","colour":1}""");
        await HoldAsync(service, 400, "no body", "POST", "/api/v1/lots", "null");
        await HoldAsync(service, 400, "null at factors[0]", "POST", "/api/v1/lots", """{"code":"1","process":"c41","factors":[null]}""");
        await HoldAsync(
            service, 422, "'2027-02-30' is no day", "POST", "/api/v1/lots", """{"code":"1","process":"c41","expires":"2027-02-30"}""");
        await HoldAsync(service, 413, "Send less at once", "POST", "/api/v1/lots", $$"""{"code":"{{new string('1', 2 * 1024 * 1024)}}"}""");
        Assert.Equal(201, (await SendAsync(service, "POST", "/api/v1/lots", Lot, "application/json")).Status);
        await HoldAsync(service, 409, "2417", "POST", "/api/v1/lots", Lot);
    }

    [Fact]
    public async Task A_problem_is_a_problem_document_even_for_whoever_asks_for_a_page()
    {
        await using var service = await RunningService.StartAsync(Token);
        service.Client.DefaultRequestHeaders.Accept.Add(new MediaTypeWithQualityHeaderValue("text/html"));
        await HoldAsync(service, 404, "There is no lot 9", "GET", "/api/v1/lots/9");
        await HoldAsync(service, 404, "There is nothing", "GET", "/nothing");
        service.Client.DefaultRequestHeaders.Authorization = null;
        await HoldAsync(service, 401, "", "GET", "/api/v1/lots");
    }

    [Fact]
    public async Task An_import_is_refused_with_the_place_in_the_file_as_its_sender_calls_it()
    {
        await using var service = await RunningService.StartAsync(Token);
        var (status, problem) = await SendAsync(
            service, "POST", "/api/v1/import?name=../../season.csv", "strip,patch\n1,ld\n", "text/csv");
        Assert.Equal(422, status);
        var detail = problem["detail"]!.GetValue<string>();
        Assert.StartsWith("season.csv", detail, StringComparison.Ordinal);
        Assert.DoesNotContain(service.Folder, detail, StringComparison.Ordinal);
        Assert.Empty(Directory.GetFileSystemEntries(Path.Combine(service.Folder, "received")));
    }

    private static async Task HoldAsync(
        RunningService service, int status, string says, string method, string path, string? body = null, string? kind = "application/json")
    {
        var (given, problem) = await SendAsync(service, method, path, body, kind);
        Assert.True(given == status, $"{method} {path}: {given} {problem}");
        Assert.Equal(status, problem["status"]!.GetValue<int>());
        Assert.NotEmpty(problem["title"]!.GetValue<string>());
        Assert.Contains(says, problem["detail"]!.GetValue<string>(), StringComparison.Ordinal);
    }

    private static async Task<(int Status, JsonNode Answer)> SendAsync(
        RunningService service, string method, string path, string? body, string? kind)
    {
        using var request = new HttpRequestMessage(new HttpMethod(method), path);
        if (body is not null)
        {
            request.Content = new StringContent(body, Encoding.UTF8);
            request.Content.Headers.ContentType = kind is null ? null : new MediaTypeHeaderValue(kind);
            request.Headers.ExpectContinue = body.Length > 1_000_000;
        }

        using var answer = await service.Client.SendAsync(request, Token);
        var text = await answer.Content.ReadAsStringAsync(Token);
        Assert.True(
            answer.IsSuccessStatusCode || answer.Content.Headers.ContentType?.MediaType == "application/problem+json",
            $"{method} {path}: {(int)answer.StatusCode} {answer.Content.Headers.ContentType} {text}");
        return ((int)answer.StatusCode, JsonNode.Parse(text)!);
    }
}
