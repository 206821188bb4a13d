using Acquire.Bench.Daily;
using Acquire.Bench.Tests.Books;

namespace Acquire.Bench.Tests.Daily;

public class ProcessChangesTests
{
    [Fact]
    public void Mix_comes_into_use_when_its_first_bottle_is_opened() =>
        Assert.Equal([("dev 12 came into use", SomeBooks.At(10))], Of(SomeBooks.Tank, SomeBooks.Use(10, SomeBooks.Tank, SomeBooks.D7))
            .Where(c => c.What.StartsWith("dev", StringComparison.Ordinal))
            .Select(c => (c.What, c.At)));

    [Fact]
    public void Bottle_used_in_another_line_only_changes_nothing_here() =>
        Assert.DoesNotContain(
            Of(SomeBooks.Machine, SomeBooks.Use(10, SomeBooks.Tank, SomeBooks.D7, SomeBooks.D8)),
            c => c.What.StartsWith("dev", StringComparison.Ordinal));

    [Fact]
    public void Closed_bottle_waits_in_reserve_beside_an_opened_one()
    {
        var next = new Solution(SomeBooks.Stamp(20), "dev 13", SolutionKind.Developer, "c41", 1);
        var reserve = new Bottle(SomeBooks.Stamp(21), "D9", next.Id, 1, new BottleStorage());
        BookEntry[] entries = [SomeBooks.Use(10, SomeBooks.Tank, SomeBooks.D7), next, reserve];
        Assert.DoesNotContain(Of(SomeBooks.Tank, entries), c => c.What.StartsWith("dev 13", StringComparison.Ordinal));
        Assert.Contains(
            Of(SomeBooks.Tank, [.. entries, SomeBooks.Use(30, SomeBooks.Tank, reserve)]),
            c => c == new ProcessChange("dev 13 came into use", SomeBooks.At(30)));
    }

    [Fact]
    public void Repairs_count_for_their_line_or_for_all()
    {
        BookEntry[] entries =
        [
            new BookEvent(SomeBooks.Stamp(5), BookEventKind.Repair, "belt", SomeBooks.Machine.Id),
            new BookEvent(SomeBooks.Stamp(6), BookEventKind.Temperature, "chiller set to 20 °C"),
            new BookEvent(SomeBooks.Stamp(7), BookEventKind.Pause, "holidays"),
        ];
        Assert.Equal(
            ["a change of temperature: chiller set to 20 °C"],
            Of(SomeBooks.Tank, entries).Select(c => c.What).Where(w => w.StartsWith("a ", StringComparison.Ordinal)));
        Assert.Contains(Of(SomeBooks.Machine, entries), c => c.What == "a repair: belt");
    }

    [Fact]
    public void What_is_dated_ahead_has_not_happened() =>
        Assert.DoesNotContain(
            Of(SomeBooks.Tank, new BookEvent(SomeBooks.Stamp(500), BookEventKind.Repair, "planned")),
            c => c.What.Contains("planned", StringComparison.Ordinal));

    private static ImmutableArray<ProcessChange> Of(ProcessLine line, params BookEntry[] more) =>
        ProcessChanges.Of(SomeBooks.Books(more), "c41", line, SomeBooks.At(100), TimeZoneInfo.Utc);
}
