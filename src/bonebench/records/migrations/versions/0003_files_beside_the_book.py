"""Which photos and papers lie in the folder beside the book."""

import sqlalchemy as sa
from alembic import op

revision = "0003"
down_revision = "0002"
branch_labels = None
depends_on = None


def upgrade() -> None:
    """Make the table."""
    op.create_table('file',
    sa.Column('sha256', sa.String(length=64), nullable=False),
    sa.Column('media_type', sa.String(length=60), nullable=False),
    sa.Column('size_bytes', sa.BigInteger(), nullable=False),
    sa.Column('width_px', sa.Integer(), nullable=True),
    sa.Column('height_px', sa.Integer(), nullable=True),
    sa.Column('sent_sha256', sa.String(length=64), nullable=True),
    sa.Column('added_at', sa.DateTime(timezone=True), nullable=False),
    sa.Column('erased_at', sa.DateTime(timezone=True), nullable=True),
    sa.PrimaryKeyConstraint('sha256', name=op.f('pk_file'))
    )
    op.create_index(op.f('ix_file_sent_sha256'), 'file', ['sent_sha256'], unique=False)


def downgrade() -> None:
    """Take the table away; the files stay in their folder."""
    op.drop_index(op.f('ix_file_sent_sha256'), table_name='file')
    op.drop_table('file')
