using System.Text.Json;
using Microsoft.Extensions.Time.Testing;

namespace Acquire.Tests.Commands;

/// <summary>
/// Whoever has a handful of strips, each patch read once at two decimals against aims that were typed in: some series lie exactly on any
/// model, and nothing may come of it but an answer.
/// </summary>
[Trait("speed", "slow")]
public sealed class HandfulTests : IDisposable
{
    private readonly InMemory _program = new() { Time = new FakeTimeProvider(AgeingSeason.Start.AddDays(40)) };

    public void Dispose() => _program.Dispose();

    [Theory]
    [InlineData(3)]
    [InlineData(4)]
    [InlineData(5)]
    [InlineData(6)]
    [InlineData(9)]
    public async Task Few_strips_read_once_get_an_answer_from_every_study(int strips)
    {
        var cancellationToken = TestContext.Current.CancellationToken;
        var random = new Random(strips);
        var last = "";
        await using (var store = await AgeingSeason.OpenAsync(_program.Folder, cancellationToken))
        {
            var mix = new Solution(AgeingSeason.Stamp(0), "dev1", SolutionKind.Developer, "c41", 1);
            var bottle = new Bottle(AgeingSeason.Stamp(0.01), "D1", mix.Id, 1, new BottleStorage("glass", 1));
            for (var i = 0; i < strips; i++)
            {
                var strip = AgeingSeason.ReadOnce(1 + (26.0 * i / strips), random, 0.003, bottle.Name);
                last = StripId.ShortForm(strip.Id);
                await store.AddStripAsync(strip, cancellationToken);
            }

            await store.AddBookEntriesAsync([AgeingSeason.Tank, mix, bottle], cancellationToken);
        }

        foreach (var command in new string[][] { ["life"], ["causes", last], ["daily"] })
        {
            var (code, output, error) = await _program.RunAsync([.. command, "--json"]);
            // Of three strips no life is told, and that is a refusal in words.
            var isRefused = command is ["life"] && strips == 3;
            Assert.True(isRefused ? code is 0 or 2 : code is 0 or 1, $"{command[0]}: {code}, {error}");
            Assert.True(code == 2 || JsonNumbers.Of(JsonDocument.Parse(output).RootElement).All(double.IsFinite));
            Assert.True((await _program.RunAsync(command)).Code is 0 or 1 || isRefused);
        }

        var (ended, _, fault) = await _program.RunAsync("report", "--out", Path.Combine(_program.Folder, "report.html"));
        Assert.True(ended == 0, fault);
    }
}
