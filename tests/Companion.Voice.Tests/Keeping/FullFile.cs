namespace Companion.Voice.Tests.Keeping;

/// <summary>A file on a disk that is full after so many bytes.</summary>
internal sealed class FullFile(FileStream file, long room) : Stream
{
    public override bool CanRead => false;

    public override bool CanSeek => true;

    public override bool CanWrite => true;

    public override long Length => file.Length;

    public override long Position { get => file.Position; set => file.Position = value; }

    public override void Flush() => file.Flush();

    public override int Read(byte[] buffer, int offset, int count) => throw new NotSupportedException();

    public override long Seek(long offset, SeekOrigin origin) => file.Seek(offset, origin);

    public override void SetLength(long value) => file.SetLength(value);

    public override void Write(byte[] buffer, int offset, int count)
    {
        if (file.Position + count > room)
        {
            throw new IOException("No space left on device");
        }

        file.Write(buffer, offset, count);
    }

    protected override void Dispose(bool disposing)
    {
        if (disposing)
        {
            file.Dispose();
        }

        base.Dispose(disposing);
    }
}
