namespace Acquire.Storage.Tests.Sessions;

/// <summary>The journal of what was received and decided, the plan, and the end that comes with a record.</summary>
public sealed class JournalTests : StoreFixture
{
    private static readonly SessionEnd Done = new(SessionOutcome.Completed, Some.Evening.AddMinutes(5), "all patches read");

    private static readonly Gen<JournalEntry> AnyEntry = Gen.OneOf(
        Gen.Select(Gen.Byte.Array[
            1, 40], Gen.Long[0, 1_000_000_000], (bytes, ticks) => new JournalEntry(0, Some.Evening.AddTicks(ticks), JournalEvent.Received)
        {
            Bytes = [.. bytes],
        }),
        Gen.Select(Gen.OneOf(Gen.Const(JournalEvent.Opened), Gen.Const(JournalEvent.Paused), Gen.Const(JournalEvent.Broke)), Gen.Long[
            0, 1_000_000_000], (what, ticks) =>
            new JournalEntry(0, Some.Evening.AddTicks(ticks), what)),
        Gen.Const(new JournalEntry(
            0, Some.Evening, JournalEvent.Decided) { Decision = """{"do":"leave_out_read","reason":"Staub, Größe 2 µm"}""" }));

    [Fact]
    public async Task Journal_any_entries_read_back_equal_after_reopening()
    {
        var session = await BeginAsync();
        var written = new List<JournalEntry>();
        await AnyEntry.Array[1, 5].SampleAsync(
            async entries =>
            {
                var numbered = entries.Select((e, i) => e with { Sequence = written.Count + i + 1 }).ToList();
                await Store.AppendAsync(session.Id, numbered, [], Token);
                written.AddRange(numbered);
            },
            iter: 100,
            threads: 1);
        await ReopenAsync();

        Deep.Equal(written.Select(Utc), await Store.SessionEntriesAsync(session.Id, Token));
    }

    [Fact]
    public async Task Append_repeated_changes_nothing_also_after_the_end()
    {
        var session = await BeginAsync();
        await Store.AppendAsync(session.Id, [Some.Chunk(1), Some.Chunk(2)], [Some.Line(1)], Token);
        await Store.EndSessionAsync(session.Id, Done with { Outcome = SessionOutcome.Cancelled }, Token);
        await Store.AppendAsync(session.Id, [Some.Chunk(1), Some.Chunk(2)], [Some.Line(1)], Token);

        Assert.Equal(2, (await Store.SessionEntriesAsync(session.Id, Token)).Count);
        Assert.Single(await Store.SessionLinesAsync(session.Id, Token));
    }

    [Theory]
    [InlineData(1, "R 9.99\r\n")]
    [InlineData(4, "R 0.26 G 0.62 B 0.80\r\n")]
    public async Task Append_other_bytes_under_a_number_or_a_gap_is_refused(int sequence, string text)
    {
        var session = await BeginAsync();
        await Store.AppendAsync(session.Id, [Some.Chunk(1), Some.Chunk(2)], [], Token);

        var error = await Assert.ThrowsAsync<StoreException>(() => Store.AppendAsync(session.Id, [Some.Chunk(sequence, text)], [], Token));

        Assert.Equal(StoreFault.Conflict, error.Fault);
    }

    [Fact]
    public async Task Append_is_all_or_nothing()
    {
        var session = await BeginAsync();
        await Store.AppendAsync(session.Id, [Some.Chunk(1)], [Some.Line(1)], Token);

        await Assert.ThrowsAsync<StoreException>(() => Store.AppendAsync(session.Id, [Some.Chunk(2)], [Some.Line(1, "other")], Token));

        Assert.Single(await Store.SessionEntriesAsync(session.Id, Token));
    }

    [Fact]
    public async Task Append_after_the_end_is_refused()
    {
        var session = await BeginAsync();
        await Store.EndSessionAsync(session.Id, Done, Token);
        var error = await Assert.ThrowsAsync<StoreException>(() => Store.AppendAsync(session.Id, [Some.Chunk(1)], [], Token));
        Assert.Equal(StoreFault.Conflict, error.Fault);
    }

    [Fact]
    public async Task Plan_reads_back_equal_and_a_profile_text_is_kept_once()
    {
        await Store.AddLotAsync(Some.Lot, Token);
        var reference = Some.Reference();
        await Store.AddReferenceAsync(reference, Token);
        var test = Some.Test();
        await Store.AddRepeatabilityTestAsync(test, Token);
        await Store.AddPlaqueAsync(Some.Plaque, Token);
        var check = Some.Check();
        await Store.AddCheckAsync(check, Token);
        SessionPlan[] plans =
        [
            Some.SessionPlan() with { Reference = (reference.Id, 1), RepeatabilityId = test.Id, CheckId = check.Id, CheckLacking = null },
            Some.SessionPlan() with { Purpose =
                SessionPurpose.Repeatability, Sheet = null, Specification = 0.012, ReadsPerPlacement = 2, Baud = 1200 },
            Some.SessionPlan() with { Purpose = SessionPurpose.Reference, Reason = "lamp replaced", Tags = StripTags.None },
        ];
        foreach (var plan in plans)
        {
            var session = Some.Session();
            await Store.BeginSessionAsync(session, plan, Token);
            Deep.Equal(plan, await Store.FindPlanAsync(session.Id, Token));
            Assert.Equal(plan.Purpose, (await Store.FindSessionAsync(session.Id, Token))!.Purpose);
        }

        Assert.Equal(1, await Store.WriteAsync(db => db.Scalar<long>("SELECT count(*) FROM profile_text"), Token));
    }

    [Fact]
    public async Task Session_of_an_older_version_has_no_plan_and_cannot_be_gone_on_with()
    {
        await Store.AddLotAsync(Some.Lot, Token);
        var session = Some.Session();
        await Store.BeginSessionAsync(session, Token);

        Assert.Null(await Store.FindPlanAsync(session.Id, Token));
        Assert.False((await Store.FindSessionAsync(session.Id, Token))!.IsUnfinished);
    }

    [Fact]
    public async Task Record_and_end_of_a_session_are_stored_both_or_neither()
    {
        var session = await BeginAsync();
        await Store.AppendAsync(session.Id, [Some.Chunk(1)], [], Token);
        await KeepAsync(Of(session), Done);
        Assert.Equal(Done, (await Store.FindSessionAsync(session.Id, Token))!.End);

        var again = Of(session);
        await Assert.ThrowsAsync<StoreException>(() => KeepAsync(again, Done with { Reason = "again" }));
        Assert.Null(await Store.FindStripAsync(again.Id.ToString(), Token));

        Task<Guid> KeepAsync(StripRecord strip, SessionEnd end) => Store.InTransactionAsync(
            writing =>
            {
                writing.AddStrip(strip);
                writing.EndSession(session.Id, end);
                return strip.Id;
            },
            Token);
    }

    /// <summary>What a caller's own decision throws is no fault of the store, and nothing of its transaction stays.</summary>
    [Fact]
    public async Task Decision_that_is_refused_inside_a_transaction_comes_out_as_it_is_and_writes_nothing()
    {
        var session = await BeginAsync();
        var fault = await Assert.ThrowsAsync<ImpossibleValueException>(() => Store.InTransactionAsync<int>(
            writing =>
            {
                writing.EndSession(session.Id, Done);
                throw new ImpossibleValueException("A volume is above zero.");
            },
            Token));

        Assert.Equal("A volume is above zero.", fault.Message);
        Assert.Null((await Store.FindSessionAsync(session.Id, Token))!.End);
    }

    [Fact]
    public async Task Session_never_gives_two_records()
    {
        var session = await BeginAsync();
        await Store.AddPlaqueAsync(Some.Plaque, Token);
        var strip = Of(session);
        await Store.AddStripAsync(strip, Token);
        await Store.AddStripAsync(Some.Strip(strip.Id, 2) with { SessionId = session.Id }, Token);
        await Store.AddReferenceAsync(Some.Reference(session: session.Id), Token);
        await Store.AddCheckAsync(Some.Check(session: session.Id), Token);
        await Store.AddRepeatabilityTestAsync(Some.Test(session.Id), Token);
        await Store.AddRecheckAsync(Some.Recheck(session: session.Id), Token);

        Func<Task>[] second =
        [
            () => Store.AddStripAsync(Of(session), Token),
            () => Store.AddReferenceAsync(Some.Reference(session: session.Id), Token),
            () => Store.AddCheckAsync(Some.Check(session: session.Id), Token),
            () => Store.AddRepeatabilityTestAsync(Some.Test(session.Id), Token),
            () => Store.AddRecheckAsync(Some.Recheck(session: session.Id), Token),
        ];
        foreach (var add in second)
        {
            Assert.Contains("already", (await Assert.ThrowsAsync<StoreException>(add)).Message, StringComparison.Ordinal);
        }
    }

    private static StripRecord Of(BenchSession session) => Some.Strip() with { SessionId = session.Id };

    private static JournalEntry Utc(JournalEntry entry) => entry with { At = entry.At.ToUniversalTime() };

    private async Task<BenchSession> BeginAsync()
    {
        await Store.AddLotAsync(Some.Lot, Token);
        var session = Some.Session();
        await Store.BeginSessionAsync(session, Some.SessionPlan(), Token);
        return session;
    }
}
