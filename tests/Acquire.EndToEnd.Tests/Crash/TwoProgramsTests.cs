using Acquire.EndToEnd.Tests.Support;
using KillTrials;

namespace Acquire.EndToEnd.Tests.Crash;

/// <summary>Programs that find the same nothing, or the same old store, at the same moment: one makes or upgrades it, all use it.</summary>
[Trait("speed", "slow")]
public sealed class TwoProgramsTests : IDisposable
{
    private readonly Darkroom _darkroom = new();

    public void Dispose() => _darkroom.Dispose();

    private RunningProgram Start(string data, params IEnumerable<string> words) => RunningProgram.Start(
        Path.Combine(AppContext.BaseDirectory, "acquire"), [.. words, "--data", data], _darkroom.Folder);

    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public async Task Programs_that_start_together_open_one_store(bool isOld)
    {
        for (var trial = 0; trial < 3; trial++)
        {
            var data = Path.Combine(_darkroom.Folder, $"together-{trial}");
            if (isOld)
            {
                OldStore.Make(Path.Combine(data, "acquire.db"));
            }

            RunningProgram[] programs = [.. Enumerable.Range(0, 3).Select(i => Start(data, "lot", "add", $"A{i}", "--process", "c41"))];
            foreach (var program in programs)
            {
                Assert.True(await program.ExitAsync() == 0, program.Error);
                await program.DisposeAsync();
            }

            await using var verify = Start(data, "verify");
            Assert.True(await verify.ExitAsync() == 0, verify.Out);
            Assert.Equal(isOld ? 1 : 0, Directory.EnumerateFiles(data, "acquire-before-upgrade-*.db").Count());
        }
    }
}
