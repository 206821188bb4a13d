namespace Acquire.Storage.Tests.Sessions;

public sealed class SessionLockTests : StoreFixture
{
    private readonly Guid _session = Guid.CreateVersion7(Some.Evening);

    [Fact]
    public void Session_read_already_names_the_program_that_reads_it()
    {
        using var held = Store.LockSession(_session, "acquire read");

        var error = Assert.Throws<StoreException>(() => Store.LockSession(_session, "acquire resume"));

        Assert.Equal(StoreFault.Conflict, error.Fault);
        Assert.Contains(
            $"acquire read, process {Environment.ProcessId}, since 2026-03-12 18:30:00Z", error.Message, StringComparison.Ordinal);
        Assert.Equal(Environment.ProcessId, Store.ReaderOf(_session)!.ProcessId);
    }

    [Fact]
    public void Session_that_goes_on_can_be_taken_up_by_another()
    {
        Store.LockSession(_session, "acquire read").Dispose();
        Assert.Null(Store.ReaderOf(_session));
        using var held = Store.LockSession(_session, "acquire resume");
        Assert.Equal("acquire resume", Store.ReaderOf(_session)!.Program);
    }

    [Fact]
    public void Session_that_ended_leaves_no_files()
    {
        var held = Store.LockSession(_session, "acquire read");
        held.SessionEnded();
        held.Dispose();
        Assert.Empty(Directory.GetFiles(System.IO.Path.Combine(Folder.Path, "sessions")));
    }

    [Fact]
    public void Folder_that_takes_no_files_is_a_fault_of_the_store()
    {
        File.WriteAllText(System.IO.Path.Combine(Folder.Path, "sessions"), "a file where the folder should be");
        Assert.Equal(StoreFault.CannotOpen, Assert.Throws<StoreException>(() => Store.LockSession(_session, "acquire read")).Fault);
    }
}
