using Acquire.Bench.Trust;

namespace Acquire.Bench.Tests.Trust;

/// <summary>Settings that several programs write at the same time.</summary>
public sealed class SettingsTests : IDisposable
{
    private readonly string _folder = Directory.CreateTempSubdirectory("settings-").FullName;

    private static CancellationToken Token => TestContext.Current.CancellationToken;

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    [Fact]
    public async Task Two_that_read_before_either_wrote_keep_both_their_settings()
    {
        var (one, other) = (Settings.Of(_folder), Settings.Of(_folder));
        await (one with { RequireCheck = CheckRequirement.Mark }).SaveAsync(_folder, Token);
        await (other with { VerdictLevel = 0.9 }).SaveAsync(_folder, Token);

        Assert.Equal((CheckRequirement.Mark, 0.9), (Settings.Of(_folder).RequireCheck, Settings.Of(_folder).VerdictLevel));
    }

    [Fact]
    public async Task Two_that_change_parts_of_one_setting_keep_both_parts()
    {
        await new Settings(Assumed: new AssumedSettings(0.012, Zero: 0.02)).SaveAsync(_folder, Token);
        var (one, other) = (Settings.Of(_folder), Settings.Of(_folder));
        await (one with { Assumed = one.Assumed! with { Repeatability = 0.008 } }).SaveAsync(_folder, Token);
        await (other with { Assumed = other.Assumed! with { Zero = null } }).SaveAsync(_folder, Token);

        Assert.Equal(new AssumedSettings(0.008), Settings.Of(_folder).Assumed);
    }

    [Fact]
    public async Task Of_two_that_change_the_same_setting_the_later_wins()
    {
        var (one, other) = (Settings.Of(_folder), Settings.Of(_folder));
        await (one with { VerdictLevel = 0.8 }).SaveAsync(_folder, Token);
        await (other with { VerdictLevel = 0.9 }).SaveAsync(_folder, Token);

        Assert.Equal(0.9, Settings.Of(_folder).VerdictLevel);
    }

    [Fact]
    public async Task Setting_that_is_taken_back_is_the_usual_again()
    {
        await new Settings(CheckRequirement.Block, 0.9).SaveAsync(_folder, Token);
        await (Settings.Of(_folder) with { VerdictLevel = null }).SaveAsync(_folder, Token);

        Assert.Equal((CheckRequirement.Block, null), (Settings.Of(_folder).RequireCheck, Settings.Of(_folder).VerdictLevel));
    }

    [Fact]
    public async Task Of_many_that_write_at_once_nobody_loses_what_was_settled()
    {
        await Task.WhenAll(Enumerable.Range(0, 30).Select(i => Task.Run(
            async () =>
            {
                var read = Settings.Of(_folder);
                var settled = (i % 3) switch
                {
                    0 => read with { RequireCheck = CheckRequirement.Block },
                    1 => read with { VerdictLevel = 0.9 },
                    _ => read with { Assumed = new AssumedSettings(0.008) },
                };
                await settled.SaveAsync(_folder, Token);
            },
            Token)));

        var kept = Settings.Of(_folder);
        Assert.Equal((CheckRequirement.Block, 0.9, new AssumedSettings(0.008)), (kept.RequireCheck, kept.VerdictLevel, kept.Assumed));
    }
}
