using System.Net.Http.Headers;
using System.Text.Json.Nodes;

namespace Acquire.Web.Tests.Api;

/// <summary>Lists in parts, and files as they go out and come in again.</summary>
public sealed class ListsTests
{
    private static CancellationToken Token => TestContext.Current.CancellationToken;

    [Fact]
    public async Task Parts_of_a_list_make_the_list_and_a_strip_that_comes_meanwhile_is_in_it_once()
    {
        await using var darkroom = await Darkroom.OpenAsync(Token);
        foreach (var path in (string[])["strips", "books", "lots", "bottles", "checks", "strips?lot=2417&last=7"])
        {
            var mark = path.Contains('?', StringComparison.Ordinal) ? '&' : '?';
            var whole = Keys(await darkroom.GetAsync($"/api/v1/{path}{mark}limit=1000", Token));
            var parts = new List<string>();
            string? next = null;
            do
            {
                var part = await darkroom.GetAsync($"/api/v1/{path}{mark}limit=2{(next is null ? "" : $"&cursor={next}")}", Token);
                Assert.InRange(part["items"]!.AsArray().Count, 1, 2);
                parts.AddRange(Keys(part));
                next = part["next"]?.GetValue<string>();
            }
            while (next is not null);

            Assert.Equal(whole, parts);
        }
    }

    [Fact]
    public async Task An_export_is_a_file_with_a_name_and_an_import_takes_it_back_or_tells_what_it_would_do()
    {
        await using var darkroom = await Darkroom.OpenAsync(Token);
        using var export = await darkroom.Service.Client.GetAsync("/api/v1/export?form=records", Token);
        Assert.Equal("application/jsonl", export.Content.Headers.ContentType!.MediaType);
        var given = export.Content.Headers.ContentDisposition!;
        Assert.Equal("attachment", given.DispositionType);
        Assert.Matches(@"^strips-\d{4}-\d\d-\d\d\.jsonl$", given.FileNameStar ?? given.FileName!.Trim('"'));
        var records = await export.Content.ReadAsByteArrayAsync(Token);

        await using var other = await RunningService.StartAsync(Token);
        var dry = await SendAsync(other, "/api/v1/import?dryRun=true&name=records.jsonl", Raw(records));
        Assert.Equal((24, false), (dry["report"]!["added"]!.GetValue<int>(), dry["report"]!["written"]!.GetValue<bool>()));
        Assert.Equal(24, dry["strips"]!.AsArray().Count);
        Assert.Empty((await other.Client.GetStringAsync("/api/v1/strips", Token)).Split("\"id\"").Skip(1));

        using var form = new MultipartFormDataContent { { Raw(records), "file", "records.jsonl" } };
        var report = (await SendAsync(other, "/api/v1/import", form))["report"]!;
        Assert.Equal(
            ("records.jsonl", 24, true),
            (report["file"]!.GetValue<string>(), report["added"]!.GetValue<int>(), report["written"]!.GetValue<bool>()));
        Assert.Equal(records, await other.Client.GetByteArrayAsync("/api/v1/export?form=records", Token));
    }

    [Fact]
    public async Task Every_form_of_an_export_comes_whole()
    {
        await using var darkroom = await Darkroom.OpenAsync(Token);
        foreach (var (form, begins) in new[]
        {
            ("results", "kind,strip"), ("reads", "strip,processed_at"), ("records", "{"), ("cgats", "CGATS.17"), ("workbook", "PK"),
        })
        {
            var bytes = await darkroom.Service.Client.GetByteArrayAsync($"/api/v1/export?form={form}", Token);
            Assert.True(bytes.Length > 2_000, form);
            Assert.Equal(begins, System.Text.Encoding.UTF8.GetString(bytes[..begins.Length]));
        }
    }

    private static ByteArrayContent Raw(byte[] bytes)
    {
        var content = new ByteArrayContent(bytes);
        content.Headers.ContentType = new MediaTypeHeaderValue("application/octet-stream");
        return content;
    }

    private static async Task<JsonNode> SendAsync(RunningService service, string path, HttpContent content)
    {
        using var answer = await service.Client.PostAsync(path, content, Token);
        var text = await answer.Content.ReadAsStringAsync(Token);
        Assert.True(answer.IsSuccessStatusCode, text);
        return JsonNode.Parse(text)!;
    }

    private static List<string> Keys(JsonNode part) =>
        [.. part["items"]!.AsArray().Select(i => (i!["id"] ?? i["code"])!.GetValue<string>())];
}
