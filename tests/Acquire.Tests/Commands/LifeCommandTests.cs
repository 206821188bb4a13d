using System.Text.Json;
using System.Text.RegularExpressions;
using Microsoft.Extensions.Time.Testing;

namespace Acquire.Tests.Commands;

/// <summary>
/// The developer of the dip tank, kept full and half full: contrast reaches its limit of 0.07 after 47 days in one and 16 in the other.
/// </summary>
public sealed class LifeCommandTests : IDisposable
{
    private readonly InMemory _program = new() { Time = new FakeTimeProvider(AgeingSeason.Start.AddDays((5 * 27) + 12)) };

    public void Dispose() => _program.Dispose();

    /// <summary>With 4 films in either, half a litre sees twice the film per litre; how long it lasts is told all the same.</summary>
    [Theory]
    [InlineData(2)]
    [InlineData(4)]
    public async Task Each_way_of_keeping_has_a_life_of_its_own(int filmsInHalf)
    {
        await FillAsync(filmsInHalf);

        var json = await _program.JsonAsync("life");

        var lives = json.GetProperty("byStorage").EnumerateArray().ToDictionary(
            s => s.GetProperty("storage").GetString()!, s => s.GetProperty("leading"));
        Assert.Equal(["glass, full", "glass, part full"], lives.Keys.Order());
        AssertHolds(lives["glass, part full"], 0.07 / 0.0045);
        AssertHolds(lives["glass, full"], 0.07 / 0.0015);
        Assert.True(lives["glass, part full"].GetProperty("days").GetProperty("upper").GetDouble()
            < lives["glass, full"].GetProperty("days").GetProperty("lower").GetDouble());
    }

    [Fact]
    public async Task Text_answers_how_long_what_matters_and_where_the_bottle_stands()
    {
        await FillAsync();

        var (code, output, error) = await _program.RunAsync("life", "--storage", "part full");

        Assert.True(code == 0, error);
        Assert.Matches(
            @"^The developer kept glass, part full lasts about 1\d days with you \(95 %: \d+ days to \d+ days\) until .*; "
            + @"that rests on 24 strips of 6 bottles\.",
            output);
        Assert.Matches(@"rolls of 80 in² per litre at your rate", output);
        Assert.Contains("What changed most is ", output, StringComparison.Ordinal);
        Assert.Contains("Bottle D6, 12 days old: ", output, StringComparison.Ordinal);
        Assert.DoesNotContain("Bottle D5", output, StringComparison.Ordinal);
        Assert.Contains(
            "Ways of keeping age at different speeds, so this is for one of them only: glass, part full.",
            output,
            StringComparison.Ordinal);
        Assert.Matches(
            @"Storage, .*: glass, part full against glass, full -0\.\d{3} ± 0\.\d{3}; faster ageing .* "
            + @"To show a difference of 0\.035: \d+ strips of each",
            output);
    }

    [Fact]
    public async Task Json_carries_every_number_of_the_text()
    {
        await FillAsync();

        var (_, text, _) = await _program.RunAsync("life", "--see", "0.03");
        var numbers = JsonNumbers.Of(await _program.JsonAsync("life", "--see", "0.03")).ToList();

        var known = numbers.SelectMany(n => new[] { n, 10 * n }).Select(n => Math.Abs(n).ToString("0.000", CultureInfo.InvariantCulture))
            .ToHashSet();
        Assert.All(Regex.Matches(text, @"\d\.\d{3}").Select(m => m.Value), v => Assert.Contains(v, known));
        Assert.All(
            Regex.Matches(text, @"(?<=\.\d{3}  +)\d+(?= %)").Select(m => m.Value),
            v => Assert.Contains(v, numbers.Select(n => (100 * n).ToString("0", CultureInfo.InvariantCulture))));
        Assert.Contains(0.03, numbers);
    }

    [Fact]
    public async Task A_kind_that_no_strip_names_is_told_with_what_was_left_out()
    {
        await FillAsync();

        var (code, output, error) = await _program.RunAsync("life", "--solution-kind", "bleach");

        Assert.Equal((2, ""), (code, output));
        Assert.Contains("24 strips left out: none of the bottles entered with them holds bleach.", error, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Strips_without_books_are_counted_and_refused()
    {
        await using (var store = await AgeingSeason.OpenAsync(_program.Folder, TestContext.Current.CancellationToken))
        {
            await store.AddStripAsync(AgeingSeason.Faulty(0, null, 0), TestContext.Current.CancellationToken);
        }

        var (code, output, error) = await _program.RunAsync("life");

        Assert.Equal((2, ""), (code, output));
        Assert.Contains("1 strip left out: the books do not tell the age", error, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(
        new[] { "--storage", "plastic" }, "No strip ran in a bottle kept 'plastic'; the strips have glass, full; glass, part full.")]
    [InlineData(new[] { "--storage", "glass" }, "fits more than one way of keeping")]
    [InlineData(new[] { "--compare", "colour" }, "expected method, line or storage")]
    [InlineData(new[] { "--compare", "line" }, "There is one line only among the strips with a known age, dip tank")]
    [InlineData(new[] { "--see", "0" }, "above 0, such as 0.03")]
    [InlineData(new[] { "--bottle", "D9" }, "There is no bottle 'D9'")]
    [InlineData(new[] { "--solution-kind", "tea" }, "'tea' is none of")]
    [InlineData(new[] { "--line", "machine" }, "no such strip")]
    public async Task Wrong_use_says_what_was_expected(string[] options, string said)
    {
        await FillAsync();

        var (code, output, error) = await _program.RunAsync(["life", .. options]);

        Assert.Equal((2, ""), (code, output));
        Assert.Contains(said, error, StringComparison.Ordinal);
    }

    private static void AssertHolds(JsonElement leading, double days)
    {
        Assert.True(leading.GetProperty("isTold").GetBoolean());
        Assert.InRange(
            days,
            leading.GetProperty("days").GetProperty("lower").GetDouble(),
            leading.GetProperty("days").GetProperty("upper").GetDouble());
    }

    private Task FillAsync(int filmsInHalf = 2) =>
        AgeingSeason.FillAsync(_program.Folder, filmsInHalf, TestContext.Current.CancellationToken);
}
