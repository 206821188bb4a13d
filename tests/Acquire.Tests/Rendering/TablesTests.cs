using Acquire.Hosting;
using Acquire.Rendering;
using Spectre.Console;

namespace Acquire.Tests.Rendering;

public sealed class TablesTests
{
    private static readonly string[] Headings = [
        "patch", "channel", "certified density", "mean of the reads", "largest error", "next check due"];

    [Fact]
    public void Table_that_fits_stays_one()
    {
        var lines = OnTerminal(120);

        Assert.Single(lines, l => l.Contains("patch", StringComparison.Ordinal));
        Assert.Contains(
            lines,
            l => l.Contains("certified density", StringComparison.Ordinal) && l.Contains("next check due", StringComparison.Ordinal));
    }

    [Theory]
    [InlineData(80)]
    [InlineData(60)]
    [InlineData(45)]
    public void Table_wider_than_the_terminal_goes_on_below_and_loses_nothing(int width)
    {
        var lines = OnTerminal(width);

        Assert.All(lines, l => Assert.True(l.Length <= width, l));
        Assert.All(Headings, h => Assert.Contains(lines, l => l.Contains(h, StringComparison.Ordinal)));
        foreach (var cell in from row in (string[])["red", "green"] from column in Enumerable.Range(2, 4) select $"{row}-{column} long")
        {
            var line = Assert.Single(lines, l => l.Contains(cell, StringComparison.Ordinal));
            Assert.StartsWith(
                $"mid {cell.Split('-')[0]}",
                string.Join(' ', line.Split(' ', StringSplitOptions.RemoveEmptyEntries)),
                StringComparison.Ordinal);
        }
    }

    [Fact]
    public void Table_wider_than_a_pipe_is_usual_is_written_whole()
    {
        using var writer = new StringWriter();
        var table = Tables.New([.. Enumerable.Range(1, 30).Select(n => $"heading {n}")]);
        table.Row(Enumerable.Range(1, 30).Select(n => $"value {n}"));
        Surroundings.Make(writer, redirected: true).WriteTable(table);

        Assert.Contains(
            writer.ToString().Split('\n'),
            l => l.Contains("value 1 ", StringComparison.Ordinal) && l.EndsWith("value 30", StringComparison.Ordinal));
    }

    private static List<string> OnTerminal(int width)
    {
        using var writer = new StringWriter();
        var console = AnsiConsole.Create(new AnsiConsoleSettings
        {
            Ansi = AnsiSupport.Yes,
            ColorSystem = ColorSystemSupport.NoColors,
            Interactive = InteractionSupport.No,
            Out = new AnsiConsoleOutput(writer),
        });
        console.Profile.Width = width;
        var table = Tables.New(Headings);
        foreach (var row in (string[])["red", "green"])
        {
            table.Row(["mid", row, .. Enumerable.Range(2, 4).Select(n => $"{row}-{n} long")]);
        }

        console.WriteTable(table);
        return [.. writer.ToString().Split('\n').Select(l => l.TrimEnd())];
    }
}
