"""What is written of specimens, where a search finds it; entries by their kind."""

import sqlalchemy as sa
from alembic import op

revision = "0005"
down_revision = "0004"
branch_labels = None
depends_on = None


def upgrade() -> None:
    """Make the table, and let the log be folded again on opening, which fills it."""
    op.create_table('written_now',
    sa.Column('specimen', sa.String(), nullable=False),
    sa.Column('entry', sa.String(), nullable=False),
    sa.Column('text', sa.String(), nullable=False),
    sa.Column('note', sa.String(), nullable=True),
    sa.ForeignKeyConstraint(['specimen'], ['specimen_now.id'], name=op.f('fk_written_now_specimen_specimen_now')),
    sa.PrimaryKeyConstraint('specimen', 'entry', name=op.f('pk_written_now'))
    )
    op.create_index(op.f('ix_written_now_note'), 'written_now', ['note'], unique=False)
    op.create_index('ix_entry_kind_latest', 'entry', ['kind', 'latest'], unique=False)
    op.execute('update book set fold_version = 0')


def downgrade() -> None:
    """Take the table away; the log holds all of it."""
    op.drop_index('ix_entry_kind_latest', table_name='entry')
    op.drop_index(op.f('ix_written_now_note'), table_name='written_now')
    op.drop_table('written_now')
